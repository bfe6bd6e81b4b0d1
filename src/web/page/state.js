"use strict";
// What can be moved, and where it stands. The state is a scenario (by name or as text), values put in place of its
// own, and two baits; everything else follows from it.

const FOOT = 0.3048, INCH = 0.0254, MPH = 0.44704;
// One entry for each thing that can be moved. For each system of units: what one unit is in the unit that the
// simulator keeps, the ends and the step of the slider, and how the simulator wants it written.
const length = (metric, us) => ({
  metric: { per: 1, unit: "m", places: 1, ...metric }, us: { per: FOOT, unit: "ft", places: 1, ...us },
});
const CONTROLS = [
  { group: "Sky", path: "when.time", name: "Hour", clock: true,
    read: (s) => clockHours(s.when.time), metric: { min: 0, max: 23.75, step: 0.25 } },
  { group: "Sky", path: "sky.cloud", name: "Cloud", share: true, read: (s) => s.sky.cloud,
    metric: { per: 1, min: 0, max: 1, step: 0.05 } },
  { group: "Sky", path: "sky.wind", name: "Wind", read: (s) => s.sky.wind_m_s,
    metric: { per: 1, unit: "m/s", places: 1, min: 0, max: 12, step: 0.5 },
    us: { per: MPH, unit: "mph", places: 0, min: 0, max: 27, step: 1 } },
  { group: "Water", path: "water.secchi", name: "Clarity", hint: "how deep a white disc can be seen", ratio: true,
    read: (s, more) => s.water.clarity.secchi_m ?? more.secchi_m,
    ...length({ min: 0.3, max: 10 }, { min: 1, max: 33 }) },
  { group: "Water", path: "water.tint", name: "Tint", words: true, read: (s) => s.water.tint },
  { group: "Water", path: "water.temperature", name: "Temperature", read: (s) => s.water.temperature_c,
    metric: { per: 1, unit: "°C", write: "C", places: 1, min: 4, max: 32, step: 0.5 },
    us: { per: 5 / 9, zero: -160 / 9, unit: "°F", write: "F", places: 0, min: 39, max: 90, step: 1 } },
  { group: "Fish", path: "fish.depth", name: "Fish depth", read: (s) => s.fish.depth_m,
    ...length({ min: 0.5, max: 12, step: 0.1 }, { min: 2, max: 40, step: 0.5 }),
    most: (s) => s.water.bottom_m },
  { group: "Fish", path: "fish.phase", name: "Phase", words: true, read: (s) => phaseWord(s.fish.phase) },
  { group: "Fish", path: "fish.pressure", name: "Pressure", hint: "how much they are fished for", words: true,
    read: (s) => s.fish.pressure },
  { group: "Fish", path: "forage.length", name: "Prey length", read: (s) => s.forage.length_m,
    metric: { per: 0.01, unit: "cm", places: 1, min: 3, max: 20, step: 0.5 },
    us: { per: INCH, unit: "in", places: 2, min: 1.25, max: 8, step: 0.25 } },
  { group: "Tackle", path: "tackle.cast", name: "Cast", read: (s) => s.tackle.cast.line_out_m ?? null,
    metric: { per: 1, unit: "m", places: 0, min: 10, max: 60, step: 1 },
    us: { per: FOOT, unit: "ft", places: 0, min: 33, max: 197, step: 1 } },
  { group: "Tackle", path: "tackle.diameter", name: "Line", read: (s) => s.tackle.diameter_m,
    metric: { per: 0.001, unit: "mm", places: 2, min: 0.15, max: 0.45, step: 0.01 },
    us: { per: INCH, unit: "in", places: 3, min: 0.006, max: 0.018, step: 0.001 } },
  { group: "Tackle", path: "tackle.speed", name: "Speed", read: (s) => s.tackle.speed_m_s,
    metric: { per: 1, unit: "m/s", places: 2, min: 0.2, max: 2, step: 0.05 },
    us: { per: MPH, unit: "mph", places: 1, min: 0.5, max: 4.5, step: 0.1 } },
  { group: "Tackle", path: "tackle.pause", name: "Paused", share: true, read: (s) => s.tackle.pause,
    metric: { per: 1, min: 0, max: 0.95, step: 0.05 } },
];
const control = (path) => CONTROLS.find((c) => c.path === path);

// The document has phases as "from-temperature" or as { "named": "pre-spawn" } or the like.
function phaseWord(phase) {
  if (typeof phase === "string") return phase.replace("-", " ");
  return Object.values(phase)[0];
}
function clockHours(text) {
  const [h, m] = text.split(":").map(Number);
  return h + (m || 0) / 60;
}
const clockText = (hours) => {
  const minutes = Math.round(hours * 60) % 1440;
  return String(Math.floor(minutes / 60)).padStart(2, "0") + ":" + String(minutes % 60).padStart(2, "0");
};

// Everything that a link or a file has to keep.
const state = { scenario: "", source: null, file: "", set: {}, a: null, b: null, over: "water.secchi", units: "metric" };
// What came from the simulator: choices, the scenario as checked, and baits of its box that the catalogue lacks.
const known = { start: null, read: null, own: [] };

const scale = (c) => (state.units === "us" && c.us) || c.metric;
// From the unit kept to the unit shown, and back to the text that the simulator reads.
const toShown = (c, kept) => (c.clock ? kept : (kept - (scale(c).zero ?? 0)) / (scale(c).per ?? 1));
function written(c, shown) {
  const u = scale(c);
  if (c.clock) return clockText(shown);
  const text = String(Number(shown.toPrecision(6)));
  return u.unit ? `${text} ${u.write ?? u.unit}` : text;
}
function shownText(c, shown) {
  const u = scale(c);
  if (c.clock) return clockText(shown);
  if (c.share) return `${Math.round(100 * shown)} %`;
  const places = c.ratio && shown < 1 ? 2 : u.places;
  return `${shown.toFixed(places)} ${u.unit}`;
}
// A slider over equal ratios runs from 0 to 100.
const RATIO_STEPS = 100;
function sliderOf(c, shown) {
  const u = scale(c);
  return c.ratio ? RATIO_STEPS * Math.log(shown / u.min) / Math.log(u.max / u.min) : shown;
}
function shownOf(c, slider) {
  const u = scale(c);
  if (!c.ratio) return Number(slider);
  const value = u.min * Math.exp(Math.log(u.max / u.min) * slider / RATIO_STEPS);
  return Number(value.toPrecision(2));
}
// Where a control stands by the scenario last checked, in the unit shown; null where the scenario lacks it.
function standsAt(c) {
  const kept = known.read && c.read(known.read.scenario, known.read);
  return kept === null || kept === undefined ? null : c.words ? kept : toShown(c, kept);
}

// The two baits, as the simulator wants them.
const chosen = () => [state.a, state.b].map((bait) => ({ name: bait.name, own: !!bait.own }));
const source = () => state.source ?? known.start.scenarios.find((s) => s.name === state.scenario).text;
function request(ask, more) {
  return {
    ask, source: source(), file: state.source === null ? `${state.scenario}.toml` : state.file || "page.toml",
    set: Object.entries(state.set), baits: ask === "read" ? [] : chosen(), units: state.units, ...more,
  };
}
// A bait of the catalogue by its properties.
const baitName = (p) => `${p.length} mm, ${p.lip} lip, ${p.sound}, ${p.finish}`;
function baitParts(name) {
  const m = /^(\d+) mm, (standard|deep) lip, (silent|rattling), (.+)$/.exec(name);
  return m && { length: m[1], lip: m[2], sound: m[3], finish: m[4] };
}

// The state as the part of an address after its #, and back. What cannot be read is left as it is.
function toHash() {
  const p = new URLSearchParams();
  if (state.source === null) p.set("water", state.scenario);
  else { p.set("toml", state.source); if (state.file) p.set("file", state.file); }
  for (const [path, value] of Object.entries(state.set)) p.append("set", `${path}=${value}`);
  for (const key of ["a", "b"]) p.set(key, (state[key].own ? "own:" : "") + state[key].name);
  p.set("over", state.over);
  if (state.units === "us") p.set("units", "us");
  return "#" + p.toString();
}
function fromHash(hash) {
  const p = new URLSearchParams(hash.replace(/^#/, ""));
  const water = p.get("water");
  if (p.has("toml")) { state.source = p.get("toml"); state.file = p.get("file") ?? ""; state.scenario = ""; }
  else if (known.start.scenarios.some((s) => s.name === water)) { state.source = null; state.scenario = water; }
  else return false;
  state.set = {};
  for (const pair of p.getAll("set")) {
    const at = pair.indexOf("=");
    if (at > 0) state.set[pair.slice(0, at)] = pair.slice(at + 1);
  }
  for (const key of ["a", "b"]) {
    const name = p.get(key);
    state[key] = !name ? null : name.startsWith("own:") ? { own: true, name: name.slice(4) } : { name };
  }
  if (control(p.get("over"))) state.over = p.get("over");
  state.units = p.get("units") === "us" ? "us" : "metric";
  return true;
}
