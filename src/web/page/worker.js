"use strict";
// The simulator in a thread of its own: texts in, texts out.
let module = null;

function ask(text) {
  const bytes = new TextEncoder().encode(text);
  const at = module.input(bytes.length);
  new Uint8Array(module.memory.buffer, at, bytes.length).set(bytes);
  const length = module.run();
  return new TextDecoder().decode(new Uint8Array(module.memory.buffer, module.output(), length));
}

self.onmessage = async (event) => {
  const { id, bytes, request } = event.data;
  try {
    if (bytes) {
      const made = await WebAssembly.instantiate(bytes, {});
      module = made.instance.exports;
      self.postMessage({ id, answer: null });
      return;
    }
    const began = performance.now();
    const answer = ask(request);
    self.postMessage({ id, answer, took: performance.now() - began });
  } catch (error) {
    self.postMessage({ id, broken: String(error) });
  }
};
