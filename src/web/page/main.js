// What happens when something is moved: a quick answer first, then the full one, then the strip, then what would
// change it. Each stage starts only when the state is still the one it was asked for.

// The first answer after a move, and the one that the program gives without further options.
const QUICK = { draws: 32, points: 64 }, FULL = { draws: 256, points: 512 };
// The strip takes what `callup sweep` takes; the many rows below it half of that.
const STRIP = { draws: 128, points: 128 }, CHANGE = { draws: 128, points: 64 };
let quick, slow, turn = 0, shown = null, strip = null;
// How long the last answers took, from the move to the picture, ms: for tests and the curious.
const timing = { quick: [], full: [] };

function moved() {
  const mine = ++turn, from = performance.now();
  remember();
  slow.forget();
  quick.ask(request("odds", QUICK)).then((answer) => {
    if (mine !== turn || document.documentElement.dataset.full === String(mine)) return;
    show(answer, false);
    timing.quick.push(performance.now() - from);
  });
  slow.ask(request("odds", FULL)).then((answer) => {
    if (mine !== turn) return;
    show(answer, true);
    timing.full.push(performance.now() - from);
    if (!answer.odds) return finished();
    askStrip(mine).then(() => mine === turn && askChanges(mine));
  });
}

function remember() {
  const hash = toHash();
  try { history.replaceState(null, "", hash); } catch { /* an address may be longer than a browser keeps */ }
}
function finished() { document.documentElement.dataset.state = String(turn); }

// ---- the answer

function show(answer, full) {
  document.documentElement.dataset.full = full ? String(turn) : "";
  const bad = answer.faults ?? (answer.error ? [{ text: answer.error }] : null);
  $("answer").classList.toggle("stale", !!bad);
  $("stagebox").classList.toggle("stale", !!bad);
  say($("alarm"), bad ? bad.map((f) => f.text.trimEnd()).join("\n\n") : "");
  if (bad) return;
  shown = answer;
  // The answer brings the scenario along, so that sliders stand where the simulator stands.
  known.read = { ...(known.read ?? {}), scenario: answer.odds.scenario, secchi_m: answer.stage.secchi_m, toml: answer.toml };
  const { said } = answer, same = state.a.name === state.b.name && state.a.own === state.b.own;
  const verdict = same ? { short: "The same bait twice", long: "Change one of the two to compare." } : said.verdict;
  say($("verdict"), verdict.short);
  say($("long"), verdict.long);
  say($("brief"), `${verdict.short}. A ${said.baits[0].strikes.replace(" in 100", "")}, B ${said.baits[1].strikes}`);
  ["a", "b"].forEach((key, i) => {
    say($("name" + key), "· " + short(said.baits[i].name, 80));
    say($("strikes" + key), said.baits[i].strikes);
    const rattles = answer.odds.scenario.baits[i].sound === "rattling";
    say($("reach" + key), said.baits[i].reach + (rattles ? " It rattles, and may be noticed from farther than it is seen." : ""));
    say($("lost" + key), said.baits[i].lost);
    $("dots" + key).replaceChildren(drawDots(answer.odds.baits[i].strikes_per_100, i));
  });
  say($("luck"), said.luck);
  say($("title"), short(said.title, 200));
  $("conditions").replaceChildren(...said.conditions.map((line) => make("li", {}, line)));
  say($("run"), said.run + (full ? "" : " A first look; the full answer follows."));
  say($("warnings"), answer.warnings.map((w) => w.text.trim()).join("\n"));
  say($("command"), command());
  $("stage").replaceChildren(drawStage(answer, widthOf("stage")));
  $("losses").replaceChildren(drawLosses(answer.odds.baits, widthOf("losses")));
  standControls();
}
const widthOf = (id) => Math.max(300, Math.round($(id).clientWidth || 600));

// What to type for the same numbers.
function command() {
  const quote = (text) => "'" + text.replaceAll("'", "'\\''") + "'";
  if (state.source !== null || state.a.own || state.b.own) {
    return "callup odds FILE.toml      (after “Save file”, which writes the two baits into it)";
  }
  const set = Object.entries(state.set).map(([path, value]) => `${path}=${value}`);
  set.push("box.use=" + [...new Set([state.a.name, state.b.name])].join("; "));
  const units = state.units === "us" ? " --units us" : "";
  return `callup odds ${state.scenario}${units}` + set.map((one) => ` --set ${quote(one)}`).join("");
}

// ---- the strip and what would change it

const steps = (c, n) => (c.words ? `${c.path}=all` : `${c.path}=${range(c)}:${n}${c.ratio ? "log" : ""}`);
// From end to end of what the slider reaches.
function range(c) {
  const u = scale(c), most = mostOf(c);
  return `${written(c, u.min)}..${written(c, most)}`;
}
function mostOf(c) {
  const u = scale(c), limit = c.most && known.read ? toShown(c, c.most(known.read.scenario)) : Infinity;
  return Math.min(u.max, Math.floor(limit / (u.step ?? 0.1) + 1e-9) * (u.step ?? 0.1));
}
const comparable = () => !(state.a.name === state.b.name && state.a.own === state.b.own);

async function askStrip(mine) {
  if (!comparable()) { $("strip").replaceChildren(); say($("stripsaid"), "Choose two different baits to compare."); return; }
  const c = control(state.over), over = c.clock ? `${c.path}=0..23:24` : steps(c, 21);
  const answer = await slow.ask(request("sweep", { over, ...STRIP }), "strip");
  if (mine !== turn) return;
  strip = answer.sweep ? answer : null;
  showStrip(answer);
}
function showStrip(answer) {
  if (!answer.sweep) {
    $("strip").replaceChildren();
    return say($("stripsaid"), answer.error ?? answer.faults[0].title);
  }
  $("strip").replaceChildren(drawStrip(answer, widthOf("strip"), hereOn(answer)));
  say($("stripsaid"), answer.said);
}
function hereOn(answer) {
  const c = control(state.over);
  if (answer.axis.words) return Math.max(0, answer.axis.words.indexOf(standsAt(c)));
  return answer.axis.here ?? standsAt(c);
}

async function askChanges(mine) {
  const rows = [];
  $("changes").tBodies[0].classList.add("stale");
  for (const c of comparable() ? CONTROLS : []) {
    if (!c.words && standsAt(c) === null) continue;
    const answer = await slow.ask(request("sweep", { over: c.clock ? `${c.path}=0..22:12` : steps(c, 6), ...CHANGE }), "change");
    if (mine !== turn) return;
    if (answer.sweep) rows.push(changeOf(c, answer));
  }
  rows.sort((a, b) => b.flips - a.flips || b.spread - a.spread);
  $("changes").tBodies[0].replaceChildren(...rows.map((r) => r.row));
  $("changes").tBodies[0].classList.remove("stale");
  finished();
}
function changeOf(c, answer) {
  const { sweep, axis } = answer, cells = sweep.cells;
  const best = cells.map((cell) => Math.max(...cell.strikes_per_100.map((s) => s.median)));
  const end = (k) => (axis.words ? axis.words[k] : c.clock ? clockText(axis.values[k]) : c.share ? `${Math.round(100 * axis.values[k])} %` : `${Number(axis.values[k].toPrecision(2))} ${scale(c).unit}`);
  const leaders = cells.map((cell) => leaderAt(cell, sweep));
  const told = [...new Set(leaders.filter((l) => l !== null))];
  const row = make("tr", {},
    make("th", { scope: "row" }, make("button", { type: "button", onclick: () => putOnStrip(c.path) }, c.name)),
    make("td", {}, c.words ? "each in turn" : `${end(0)} … ${end(cells.length - 1)}`),
    make("td", {}, extremes(best, end)), make("td", {}, whoLeads(answer, leaders, told, end)));
  return { row, flips: told.length > 1 ? 1 : 0, spread: Math.max(...best) - Math.min(...best) };
}
function extremes(best, end) {
  const least = best.indexOf(Math.min(...best)), most = best.indexOf(Math.max(...best));
  if (best[most] - best[least] < 1) return `about the same throughout (${per100(best[most])})`;
  return `${per100(best[least])} at ${end(least)}, ${per100(best[most])} at ${end(most)}`;
}
function whoLeads(answer, leaders, told, end) {
  if (!told.length) return answer.levels.every(Boolean) ? "no difference that matters" : "cannot be told anywhere";
  if (told.length === 1) return leaders.every((l) => l !== null) ? `${CALLED[told[0]]} throughout` : `${CALLED[told[0]]}, where it can be told`;
  return told.map((who) => `${CALLED[who]} at ` + runs(leaders, who, end)).join("; ");
}
// "1 m to 2.4 m, 8 m": the stretches in which one leads.
function runs(leaders, who, end) {
  const parts = [];
  for (let k = 0; k < leaders.length; k++) {
    if (leaders[k] !== who) continue;
    const from = k;
    while (leaders[k + 1] === who) k++;
    parts.push(from === k ? end(k) : `${end(from)} to ${end(k)}`);
  }
  return parts.join(", ");
}
function putOnStrip(path) {
  state.over = path;
  $("over").value = path;
  remember();
  askStrip(turn).then(() => $("striphead").scrollIntoView({ block: "nearest" }));
}
