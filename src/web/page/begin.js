// From an opened file or a link to the first answer; what the buttons do.

// Reads the scenario anew: after another water, another file, another system of units.
async function reload() {
  const answer = await quick.ask(request("read"));
  if (!answer.scenario) {
    known.own = [];
    for (const key of ["a", "b"]) state[key] ??= { name: DEFAULT[key] };
    return show(answer, true);
  }
  known.read = answer;
  known.own = answer.baits.filter((b) => !b.known);
  for (const key of ["a", "b"]) {
    const bait = state[key];
    if (bait && (bait.own ? !known.own.some((b) => b.name === bait.name) : !baitParts(bait.name))) state[key] = null;
  }
  // Without baits of its own a state begins with the first and the last of the box.
  const ends = [answer.baits[0], answer.baits[answer.baits.length - 1]];
  ["a", "b"].forEach((key, i) => { state[key] ??= ends[i].known ? { name: fullName(ends[i]) } : { name: ends[i].name, own: true }; });
  $("water").value = state.source === null ? state.scenario : "";
  $("units").value = state.units;
  $("over").value = state.over;
  standBaits();
  standControls();
  moved();
}
// A bait of the catalogue with its finish, which a box may leave to be understood.
const fullName = (bait) => (bait.name.endsWith(bait.finish) ? bait.name : `${bait.name}, ${bait.finish}`);

function buildTools() {
  const { scenarios } = known.start;
  $("water").replaceChildren(...scenarios.map((s) => make("option", { value: s.name }, s.about)), make("option", { value: "", disabled: true }, "from a file"));
  $("water").onchange = (e) => { Object.assign(state, { scenario: e.target.value, source: null, file: "", set: {} }); dropOwn(); reload(); };
  $("units").onchange = (e) => { state.units = e.target.value; buildControls(); reload(); };
  $("over").onchange = (e) => putOnStrip(e.target.value);
  $("link").onclick = copyLink;
  $("save").onclick = save;
  $("open").onclick = () => $("file").click();
  $("file").onchange = async (e) => { const [file] = e.target.files; if (file) openText(await file.text(), file.name); e.target.value = ""; };
}
function dropOwn() { for (const key of ["a", "b"]) if (state[key]?.own) state[key] = null; }
const tell = (text) => say($("told"), text);
function openText(text, name) {
  const MOST = 200000;
  if (text.length > MOST) return tell(`${short(name, 60)} is too long for a scenario.`);
  Object.assign(state, { source: text, file: name, scenario: "", set: {}, a: null, b: null });
  tell(`Opened ${short(name, 60)}.`);
  reload();
}
async function copyLink() {
  remember();
  const address = location.href.replace(/#.*$/, "") + toHash();
  try { await navigator.clipboard.writeText(address); tell("The link is in the clipboard; it keeps all that is set here."); }
  catch { tell("Copy the address of this page: it keeps all that is set here."); }
}
// The scenario with the two baits, as a file that this page opens and the program reads.
function save() {
  const link = make("a", { download: "callup-scenario.toml", href: URL.createObjectURL(new Blob([known.read?.toml ?? source()], { type: "text/plain" })) });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  tell("Saved callup-scenario.toml. Open it here again, or run: callup odds callup-scenario.toml");
}

const DEFAULT = { a: "90 mm, standard lip, silent, half-flash", b: "110 mm, deep lip, silent, half-flash" };
async function begin() {
  const module = await unpack();
  quick = new Thread(module);
  slow = new Thread(module);
  known.start = await quick.ask({ ask: "start" });
  say($("caution"), known.start.caution);
  say($("version"), known.start.version);
  Object.assign(state, { scenario: known.start.default, a: { name: DEFAULT.a }, b: { name: DEFAULT.b } });
  const handed = JSON.parse($("begin").textContent);
  if (location.hash.length > 1 && fromHash(location.hash)) { /* a link says it all */ }
  else if (handed) {
    state.units = handed.units;
    if (handed.source) Object.assign(state, { source: handed.source, file: handed.file, scenario: "", a: null, b: null });
    else if (handed.water) Object.assign(state, { scenario: handed.water, set: Object.fromEntries(handed.set), a: null, b: null });
  }
  buildControls();
  buildTools();
  buildLessons();
  takeFish();
  addEventListener("hashchange", () => { if (location.hash !== toHash() && fromHash(location.hash)) { buildControls(); reload(); } });
  let width = innerWidth, waiting = 0;
  addEventListener("resize", () => {
    if (innerWidth === width) return;
    width = innerWidth;
    clearTimeout(waiting);
    waiting = setTimeout(() => { if (shown) { show(shown, true); if (strip) showStrip(strip); } }, 120);
  });
  reload();
}
begin().catch((error) => { say($("verdict"), "This browser cannot run the page"); say($("alarm"), `It needs WebAssembly with vectors and DecompressionStream (browsers from 2023 on). ${error}`); });
