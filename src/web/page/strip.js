// One thing moved from end to end: the odds of both baits with their ranges, and who leads where.

function drawStrip(answer, width, here) {
  const { sweep, axis } = answer, cells = sweep.cells;
  const W = width, H = width < 520 ? 240 : 290, left = 34, right = W - 12, top = 14, floor = H - 78;
  const n = cells.length, words = axis.words;
  const scaleOf = (v) => (axis.logarithmic ? Math.log(v) : v);
  const ends = [axis.values[0], axis.values[n - 1]].map(scaleOf);
  const x = (v) => (words ? left + (right - left) * (v + 0.5) / n : left + (right - left) * (scaleOf(v) - ends[0]) / (ends[1] - ends[0]));
  const most = Math.max(4, ...cells.flatMap((c) => c.strikes_per_100.map((s) => s.high)));
  const high = Math.min(100, niceAbove(most));
  const y = (v) => floor - (floor - top) * v / high;
  const marks = [];
  for (const v of [0, high / 2, high]) {
    marks.push(mark("line", { x1: left, x2: right, y1: y(v), y2: y(v), stroke: "var(--line)" }));
    marks.push(label(left - 5, y(v) + 4, String(Math.round(v * 10) / 10), { "text-anchor": "end", "font-size": 12 }));
  }
  marks.push(label(left + 2, top - 3, "strikes in 100", { "font-size": 11.5, fill: "var(--muted)" }));
  const series = [0, 1].map((i) => cells.map((c, k) => ({ x: x(words ? k : axis.values[k]), ...c.strikes_per_100[i] })));
  // Where both lines end together the letters stand side by side.
  const tips = series.map((points) => y(points[n - 1].median)), close = Math.abs(tips[0] - tips[1]) < 15;
  series.forEach((points, i) => marks.push(...(words ? pins(points, i, y) : bands(points, i, y, close && !i ? 22 : 4))));
  ribbon(marks, answer, { x, left, right, y: floor + 10, words, width });
  axisMarks(marks, axis, { x, left, right, y: floor + 46, W });
  if (here !== null) {
    const at = Math.min(right, Math.max(left, x(here)));
    marks.push(mark("line", { x1: at, x2: at, y1: top, y2: floor + 26, stroke: "currentColor", "stroke-dasharray": "3 3" }));
    marks.push(label(at, H - 4, "now", { "text-anchor": "middle", "font-weight": "bold", "font-size": 12 }));
  }
  return picture(W, H, answer.said, marks);
}
const niceAbove = (v) => [4, 6, 8, 10, 16, 20, 30, 40, 50, 60, 80, 100].find((n) => n >= v) ?? 100;
function bands(points, i, y, aside) {
  const colour = `var(--${i ? "bfill" : "a"})`;
  const edge = [...points.map((p) => `${p.x.toFixed(1)},${y(p.high).toFixed(1)}`), ...points.slice().reverse().map((p) => `${p.x.toFixed(1)},${y(p.low).toFixed(1)}`)];
  const last = points[points.length - 1];
  return [
    mark("polygon", { points: edge.join(" "), fill: colour, "fill-opacity": 0.16 }),
    mark("polyline", { points: points.map((p) => `${p.x.toFixed(1)},${y(p.median).toFixed(1)}`).join(" "), fill: "none", stroke: colour, "stroke-width": 3, "stroke-dasharray": i ? "8 4" : "none" }),
    label(last.x - aside, y(last.median) - 6, CALLED[i], { "text-anchor": "end", "font-weight": "bold", fill: `var(--${i ? "b" : "a"})`, stroke: "var(--paper)", "stroke-width": 4, "paint-order": "stroke" }),
  ];
}
function pins(points, i, y) {
  const colour = `var(--${i ? "bfill" : "a"})`, aside = i ? 8 : -8;
  return points.flatMap((p) => [
    mark("line", { x1: p.x + aside, x2: p.x + aside, y1: y(p.low), y2: y(p.high), stroke: colour, "stroke-width": 5, "stroke-opacity": 0.35 }),
    i ? mark("rect", { x: p.x + aside - 5, y: y(p.median) - 5, width: 10, height: 10, fill: colour }) : mark("circle", { cx: p.x + aside, cy: y(p.median), r: 5.5, fill: colour }),
  ]);
}
// Who leads at each step: a letter where it can be told, grey where it cannot, pale where it makes no difference.
function leaderAt(cell, sweep) {
  return cell.leader === null ? null : sweep.baits.indexOf(cell.leader);
}
function ribbon(marks, answer, { x, left, right, y, words }) {
  const { sweep, axis, levels } = answer, n = sweep.cells.length;
  const at = (k) => (words ? x(k) : x(axis.values[k]));
  const edge = (k) => (k <= 0 ? left : k >= n ? right : (at(k - 1) + at(k)) / 2);
  let from = 0;
  for (let k = 1; k <= n; k++) {
    const same = k < n && leaderAt(sweep.cells[k], sweep) === leaderAt(sweep.cells[from], sweep) && levels[k] === levels[from];
    if (same) continue;
    const who = leaderAt(sweep.cells[from], sweep), a = edge(from), b = edge(k);
    const fill = who === null ? (levels[from] ? "var(--raised)" : "var(--grey)") : who ? "var(--bfill)" : "#18355d";
    marks.push(mark("rect", { x: a, y, width: Math.max(0.5, b - a), height: 18, fill, stroke: "var(--paper)" }));
    const wide = b - a;
    const text = who === null ? (levels[from] ? (wide > 100 ? "no difference" : "=") : wide > 90 ? "cannot be told" : "?") : wide > 60 ? `${CALLED[who]} leads` : CALLED[who];
    if (wide > 12) marks.push(label((a + b) / 2, y + 13.5, text, { "text-anchor": "middle", "font-size": 12, fill: who === 0 ? "#ffffff" : who === 1 ? "#1b2731" : "currentColor" }));
    from = k;
  }
  for (const flip of sweep.leader_changes) {
    const place = x(flipShown(flip, answer));
    marks.push(mark("path", { d: `M${place.toFixed(1)},${y - 1} l-6,-9 h12 z`, fill: "var(--bad)" }));
  }
}
// Where the lead changes, in the unit shown: the document has it in the unit kept.
function flipShown(flip, answer) {
  const kept = answer.sweep.axes[0].values, shown = answer.axis.values;
  let k = kept.findIndex((v) => v >= flip.at);
  if (k <= 0) k = k < 0 ? kept.length - 1 : 1;
  const t = (flip.at - kept[k - 1]) / (kept[k] - kept[k - 1]);
  return shown[k - 1] + t * (shown[k] - shown[k - 1]);
}
function axisMarks(marks, axis, { x, left, right, y }) {
  if (axis.words) {
    const wide = (right - left) / axis.words.length;
    axis.words.forEach((word, k) => marks.push(label(x(k), y + (wide < 80 && k % 2 ? 14 : 0), short(word, 13), { "text-anchor": "middle", "font-size": 11.5 })));
    return;
  }
  const n = axis.values.length, every = Math.max(1, Math.ceil((n - 1) / (right - left > 500 ? 8 : 4)));
  for (let k = 0; k < n; k += every) {
    const v = axis.values[k];
    const text = state.over === "when.time" && axis.unit === "" ? clockText(v) : String(Number(v.toPrecision(2)));
    marks.push(mark("line", { x1: x(v), x2: x(v), y1: y - 17, y2: y - 12, stroke: "currentColor" }));
    marks.push(label(x(v), y, text, { "text-anchor": k === 0 ? "start" : k + every >= n ? "end" : "middle", "font-size": 12 }));
  }
  marks.push(label((left + right) / 2, y + 16, clean(axis.unit ? `${axis.name} (${axis.unit})` : axis.name), { "text-anchor": "middle", "font-size": 12, fill: "var(--muted)" }));
}
