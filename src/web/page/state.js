// What is set, how it is written into the address, and how it is asked of the simulator.

const state = {
  /** Name of a scenario of the library, or "" where `source` is a file of the reader's. */
  name: "", source: "", file: "page.toml",
  /** Values put in place of the scenario's, as text, and all values of the controls, as numbers or words. */
  set: {}, values: {},
  /** The two baits, by name; `own` for one of the reader's file. */
  baits: [],
  units: "metric", strip: "water.secchi", lesson: "", fixed: false,
};

/** More than this does not go into an address. */
const LONGEST_LINK = 7000;

function written(path, value) {
  const control = controls.find((c) => c.path === path);
  if (control.kind === "choice") return value;
  if (control.kind === "hour") return clock(value);
  const number = String(Math.round(value * 1e4) / 1e4);
  return control.unit ? `${number} ${control.unit}` : number;
}

function request(ask, more) {
  return {
    ask, source: state.source, file: state.file, set: Object.entries(state.set), baits: state.baits,
    units: state.units, fixed: state.fixed, ...more,
  };
}

function toHash() {
  const all = new URLSearchParams();
  if (state.name) all.set("from", state.name);
  else if (state.source.length < LONGEST_LINK) all.set("toml", state.source);
  for (const [path, value] of Object.entries(state.set)) all.set(path, value);
  state.baits.forEach((b, i) => all.set(i ? "b" : "a", (b.own ? "own:" : "") + b.name));
  all.set("units", state.units);
  all.set("strip", state.strip);
  if (state.fixed) all.set("worlds", "one");
  if (state.lesson) all.set("lesson", state.lesson);
  return `#${all}`;
}

/** The state in an address; null where there is none. Whatever is odd about it the simulator will say. */
function fromHash(hash) {
  const all = new URLSearchParams(hash.replace(/^#/, ""));
  if (![...all.keys()].length) return null;
  const found = scenarios.find((s) => s.name === all.get("from"));
  const toml = all.get("toml");
  const base = found || scenarios.find((s) => s.name === start.default);
  const set = {};
  for (const control of controls) if (all.has(control.path)) set[control.path] = all.get(control.path);
  const bait = (text) => text.startsWith("own:") ? { own: true, name: text.slice(4) } : { own: false, name: text };
  const baits = ["a", "b"].filter((k) => all.get(k)).map((k) => bait(all.get(k)));
  const strip = all.get("strip");
  return {
    name: toml ? "" : base.name, source: toml || base.source, file: toml ? "link.toml" : `${base.name}.toml`, set,
    baits: baits.length === 2 ? baits : [],
    units: all.get("units") === "us" ? "us" : "metric",
    strip: controls.some((c) => c.path === strip) ? strip : "water.secchi",
    fixed: all.get("worlds") === "one",
    lesson: lessons.some((l) => l.id === all.get("lesson")) ? all.get("lesson") : "",
  };
}

/** The values of the controls out of a checked scenario. */
function valuesOf(s) {
  const [h, m] = s.when.time.split(":").map(Number);
  const phase = typeof s.fish.phase === "string" ? "from temperature" : Object.values(s.fish.phase)[0];
  return {
    "fish.depth": s.fish.depth_m, "water.secchi": s.water.clarity.secchi_m ?? null, "water.tint": s.water.tint,
    "when.time": h + m / 60, "sky.cloud": s.sky.cloud, "sky.wind": s.sky.wind_m_s,
    "water.temperature": s.water.temperature_c, "fish.phase": phase, "fish.pressure": s.fish.pressure,
    "forage.length": s.forage.length_m,
  };
}
