// Small helpers: elements, text, and the simulator's threads.
const $ = (id) => document.getElementById(id);
// Text only ever enters the page as text. Marks that turn the reading direction are dropped.
const clean = (text) => String(text).replace(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u061c\u200b\u200e\u200f\u202a-\u202e\u2028\u2029\u2060-\u206f\ufeff]/g, " ");
function say(element, text) {
  const shown = clean(text);
  if (element.textContent !== shown) element.textContent = shown;
}
function make(tag, attributes, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (value !== null && value !== undefined && value !== false) element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.map((c) => (typeof c === "string" ? clean(c) : c)));
  return element;
}
const SVG = "http://www.w3.org/2000/svg";
function mark(tag, attributes, ...children) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes ?? {})) {
    element.setAttribute(name, typeof value === "number" ? String(Math.round(value * 100) / 100) : value);
  }
  element.append(...children.map((c) => (typeof c === "string" ? clean(c) : c)));
  return element;
}
const label = (x, y, text, more) => mark("text", { x, y, "font-size": 13, fill: "currentColor", ...more }, text);
// A picture with a name and a description for those who do not see it.
function picture(width, height, title, ...marks) {
  const svg = mark("svg", { viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": clean(title) });
  svg.append(...marks.flat());
  return svg;
}
// At most so many characters.
const short = (text, most) => { const all = [...clean(text)]; return all.length > most ? all.slice(0, most - 1).join("") + "…" : clean(text); };
// A number of strikes in 100 in at most two digits, as the program says it.
const per100 = (x) => (x < 0.95 ? "under 1" : x > 99 ? "over 99" : x < 2.75 ? String(Math.round(2 * x) / 2) : String(Math.round(x)));
const depthText = (m) => (state.units === "us" ? `${(m / FOOT).toFixed(0)} ft` : `${Number(m.toFixed(1))} m`);

// A thread of the simulator. One request at a time; in each lane the newest request takes the place of one that
// still waits, whose promise then never settles. Earlier lanes go first.
const LANES = ["odds", "strip", "change"];
class Thread {
  constructor(module) {
    this.code = URL.createObjectURL(new Blob([$("worker").textContent], { type: "text/javascript" }));
    this.module = module; this.waiting = {};
    this.begin();
  }
  begin() {
    this.busy = true; this.done = null;
    this.worker = new Worker(this.code);
    this.worker.onmessage = ({ data }) => {
      const done = this.done;
      if (data.broken) { this.worker.terminate(); this.begin(); } else { this.busy = false; this.done = null; }
      if (done) done(data.answer);
      this.next();
    };
    this.worker.postMessage({ module: this.module });
  }
  ask(request, lane = "odds") {
    return new Promise((done) => { this.waiting[lane] = { request, done }; this.next(); });
  }
  forget() { this.waiting = {}; }
  next() {
    const lane = this.busy ? null : LANES.find((l) => this.waiting[l]);
    if (!lane) return;
    const { request, done } = this.waiting[lane];
    delete this.waiting[lane];
    this.busy = true; this.done = done;
    this.worker.postMessage({ request });
  }
}
// The module: base64 of gzip, unpacked by the browser itself.
async function unpack() {
  const text = $("module").textContent.trim();
  const packed = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compile(await new Response(stream).arrayBuffer());
}
