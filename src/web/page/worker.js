// The simulator in a thread of its own. It gets the compiled module once, then one request after the other.
let wasm = null;
function ask(text) {
  const bytes = new TextEncoder().encode(text);
  const at = wasm.input(bytes.length);
  new Uint8Array(wasm.memory.buffer, at, bytes.length).set(bytes);
  const length = wasm.run();
  return new TextDecoder().decode(new Uint8Array(wasm.memory.buffer, wasm.output(), length));
}
onmessage = async (event) => {
  const { module, request } = event.data;
  try {
    if (module) {
      wasm = (await WebAssembly.instantiate(module, {})).exports;
      return postMessage({});
    }
    postMessage({ answer: JSON.parse(ask(JSON.stringify(request))) });
  } catch (error) {
    // A trap leaves the module in an unknown state: this thread is of no more use.
    postMessage({ answer: { error: String(error) }, broken: true });
  }
};
