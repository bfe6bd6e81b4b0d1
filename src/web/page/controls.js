// The sliders and lists, and what they do.

function buildControls() {
  const groups = [...new Set(CONTROLS.map((c) => c.group))];
  const sets = groups.map((group) => make("fieldset", {}, make("legend", {}, group), ...CONTROLS.filter((c) => c.group === group).map(rowOf)));
  $("controls").replaceChildren(...sets.slice(0, 3), baitSet("a", 0), baitSet("b", 1), ...sets.slice(3));
  $("over").replaceChildren(...CONTROLS.map((c) => make("option", { value: c.path }, c.name)));
  $("over").value = state.over;
}
const idOf = (path) => "c-" + path.replaceAll(".", "-");
function rowOf(c) {
  const id = idOf(c.path), title = c.hint ?? null;
  if (c.words) {
    const list = make("select", { id, title, onchange: (e) => put(c, e.target.value) },
      ...known.start.words[c.path].map((word) => make("option", { value: word }, word)));
    return make("div", { class: "row" }, make("label", { for: id }, c.name), list);
  }
  const slider = make("input", { id, type: "range", title, oninput: (e) => put(c, shownOf(c, Number(e.target.value))) });
  return make("div", { class: "row" }, make("label", { for: id }, c.name), slider, make("output", { for: id, id: id + "-out" }));
}
// A new value from a hand or a lesson, in the unit shown.
function put(c, value) {
  state.set[c.path] = c.words ? value : written(c, value);
  for (const other of RIVALS[c.path] ?? []) delete state.set[other];
  if (!c.words) { const text = shownText(c, value); say($(idOf(c.path) + "-out"), text); $(idOf(c.path)).setAttribute("aria-valuetext", text); }
  moved();
}
const RIVALS = { "water.secchi": ["water.turbidity"], "tackle.cast": ["tackle.launch"], "tackle.diameter": ["tackle.strength"] };

// Every control at the value of the scenario last answered; the one in hand is left alone.
function standControls() {
  for (const c of CONTROLS) if ($(idOf(c.path)) !== document.activeElement || c.words) standOne(c);
}
function standOne(c) {
  const element = $(idOf(c.path)), value = standsAt(c);
  element.disabled = value === null;
  if (value === null) return;
  if (c.words) { element.value = value; return; }
  const u = scale(c);
  Object.assign(element, c.ratio ? { min: 0, max: RATIO_STEPS, step: 0.5 } : { min: u.min, max: mostOf(c), step: u.step });
  element.value = String(sliderOf(c, value));
  const text = shownText(c, value);
  say($(idOf(c.path) + "-out"), text);
  element.setAttribute("aria-valuetext", text);
}

// ---- the two baits

const PARTS = [["length", "Length"], ["lip", "Lip"], ["sound", "Sound"], ["finish", "Finish"]];
function choicesOf(part) {
  if (part === "length") return known.start.lengths_m.map((m) => String(Math.round(1000 * m)));
  return known.start.words["bait." + part];
}
function baitSet(key, i) {
  const own = make("select", { id: `${key}-from`, onchange: (e) => fromBox(key, e.target.value) });
  const rows = PARTS.map(([part, name]) => {
    const id = `${key}-${part}`;
    const list = make("select", { id, onchange: () => built(key) }, ...choicesOf(part).map((value) =>
      make("option", { value }, part === "length" ? lengthText(value) : value)));
    return make("div", { class: "row" }, make("label", { for: id }, name), list);
  });
  const from = make("div", { class: "row", id: `${key}-fromrow` }, make("label", { for: `${key}-from` }, "Bait"), own);
  return make("fieldset", { class: key }, make("legend", {}, `Bait ${CALLED[i]}`), from, ...rows);
}
const lengthText = (mm) => (state.units === "us" ? `${mm} mm (${(mm / 25.4).toFixed(1)} in)` : `${mm} mm`);
function built(key) {
  const parts = Object.fromEntries(PARTS.map(([part]) => [part, $(`${key}-${part}`).value]));
  state[key] = { name: baitName(parts) };
  standBaits();
  moved();
}
function fromBox(key, value) {
  if (value === "") return built(key);
  state[key] = { name: known.own[Number(value)].name, own: true };
  standBaits();
  moved();
}
// The lists at what the state says. Baits of the file's own box that the catalogue does not know can be chosen too.
function standBaits() {
  for (const key of ["a", "b"]) {
    const bait = state[key], parts = bait.own ? null : baitParts(bait.name);
    const list = $(`${key}-from`);
    list.replaceChildren(make("option", { value: "" }, "chosen here"), ...known.own.map((b, k) => make("option", { value: String(k) }, "from the file: " + short(b.shown, 60))));
    list.value = bait.own ? String(known.own.findIndex((b) => b.name === bait.name)) : "";
    $(`${key}-fromrow`).hidden = !known.own.length;
    for (const [part] of PARTS) {
      $(`${key}-${part}`).closest(".row").hidden = !!bait.own;
      if (parts) $(`${key}-${part}`).value = parts[part];
    }
  }
}
