// The water from the side, the dots, and where the passes go.

const TINTS = { clear: ["#bfe0e6", "#0b2438"], "tea-stained": ["#d9c08c", "#241607"], "algae-green": ["#c3d8a0", "#12240f"], clay: ["#d8cbb4", "#3a2c1c"] };
const mix = (a, b, t) => {
  const hex = (c, i) => parseInt(c.slice(1 + 2 * i, 3 + 2 * i), 16);
  return "#" + [0, 1, 2].map((i) => Math.round(hex(a, i) + (hex(b, i) - hex(a, i)) * t).toString(16).padStart(2, "0")).join("");
};
// The shade of the water where the share `left` of the light is left: black at one ten-thousandth.
const shade = ([pale, deep], left) => mix(pale, deep, Math.min(1, Math.max(0, -Math.log10(Math.max(left, 1e-9)) / 3)));
const leftAt = (stage, z) => Math.exp(-stage.k_per_m * z);

// A closed body with its head at the left, `long` across, as a path around 0,0.
const body = (long, high) => `M${-long / 2},0 C${-long * 0.3},${-high} ${long * 0.2},${-high} ${long * 0.36},0 C${long * 0.2},${high} ${-long * 0.3},${high} ${-long / 2},0 Z M${long * 0.3},0 L${long / 2},${-high * 0.8} L${long * 0.45},0 L${long / 2},${high * 0.8} Z`;

// The picture is laid out anew for the width there is, so that letters keep their size on a phone.
function drawStage(answer, width) {
  const { stage } = answer, narrow = width < 520;
  const W = width, SKY = narrow ? 44 : 74, H = narrow ? 250 : 430, left = 40, right = W - 8;
  const ends = stage.baits.map((b) => b.runs_m);
  // Deep enough for the fish and most of what it sees below itself.
  const down = Math.max(...stage.baits.map((b) => b.seen[0][1])), { depth_m } = stage.fish;
  const deepest = hand.deepest ?? Math.min(stage.bottom_m * 1.04, Math.max(1.3 * depth_m, depth_m + Math.min(1.05 * down, 0.8 * depth_m), 1.25 * Math.max(...ends), 1.5));
  const reach = Math.max(...stage.baits.map((b) => b.path[b.path.length - 1][0]), 1);
  const y = (z) => SKY + (H - SKY) * Math.min(z, deepest) / deepest;
  const x = (reeled) => left + (right - left) * reeled / reach;
  const px = { x: (right - left) / reach, y: (H - SKY) / deepest };
  const fishX = x(0.5 * reach), fishY = y(depth_m);
  const tint = TINTS[answer.odds.scenario.water.tint] ?? TINTS.clear;
  const marks = [];
  sky(marks, stage, answer, { W, SKY, left, right, narrow });
  const STEPS = 48;
  for (let i = 0; i < STEPS; i++) {
    const z = deepest * (i + 0.5) / STEPS, top = SKY + (H - SKY) * i / STEPS;
    marks.push(mark("rect", { x: 0, y: top, width: W, height: H - top, fill: shade(tint, leftAt(stage, z)) }));
  }
  if (stage.bottom_m <= deepest) marks.push(mark("rect", { x: 0, y: y(stage.bottom_m), width: W, height: H - y(stage.bottom_m) + 1, fill: "#6f5c46" }));
  const ink = (z) => (leftAt(stage, z) > 0.12 ? "#1b2731" : "#ffffff");
  depthAxis(marks, { y, deepest, left, ink, SKY });
  const band = [stage.fish.depth_m - stage.fish.spread_m, stage.fish.depth_m + stage.fish.spread_m].map((z) => y(Math.max(0, z)));
  marks.push(mark("rect", { x: left, y: band[0], width: right - left, height: Math.max(2, band[1] - band[0]), fill: "#ffffff", "fill-opacity": 0.22 }));
  const clip = mark("clipPath", { id: "wet" }, mark("rect", { x: left, y: SKY, width: right - left, height: H - SKY }));
  marks.push(mark("defs", {}, clip));
  const looks = stage.baits.map((bait, i) => outline(bait.seen, fishX, fishY, px, i));
  // Both rims before both lines, so that lines that run together show as one in two colours.
  marks.push(mark("g", { "clip-path": "url(#wet)" }, ...[0, 1, 2].flatMap((part) => looks.map((look) => look[part]))));
  marks.push(mark("path", { d: body(narrow ? 50 : 74, narrow ? 13 : 19), transform: `translate(${fishX.toFixed(1)} ${fishY.toFixed(1)})`, fill: "#3c4f45", stroke: "#fff", "stroke-width": 1, class: "fish" }));
  const paths = stage.baits.map((bait, i) => runOf(bait, i, { x, y, fishX, narrow }));
  marks.push(...[0, 1, 2, 3].flatMap((part) => paths.map((path) => path[part])));
  marks.push(mark("line", { x1: 0, x2: W, y1: SKY, y2: SKY, stroke: "#308287", "stroke-width": 2.5 }));
  if (stage.secchi_m < deepest) {
    const sy = y(stage.secchi_m);
    marks.push(mark("line", { x1: left + 14, x2: left + 14, y1: SKY, y2: sy, stroke: ink(stage.secchi_m), "stroke-width": 1 }));
    marks.push(mark("ellipse", { cx: left + 14, cy: sy, rx: 9, ry: 3, fill: "#fff", stroke: "#1b2731" }));
    if (!narrow) marks.push(label(left + 27, sy + 4, "white disc lost from sight", { fill: ink(stage.secchi_m), "font-size": 11.5 }));
  }
  const lit = leftAt(stage, stage.fish.depth_m);
  const light = lit >= 0.1 ? `${Math.round(100 * lit)} %` : lit >= 0.001 ? `${(100 * lit).toPrecision(1)} %` : "under 0.1 %";
  const note = narrow ? `${light} of light` : `${light} of the light is left here`;
  marks.push(label(right - 4, Math.min(H - 6, fishY + (narrow ? 16 : 20)), note, { "text-anchor": "end", fill: ink(stage.fish.depth_m), "font-size": 12 }));
  const svg = picture(W, H, told(answer), marks);
  Object.assign(hand, { scale: (share) => deepest * (share * H - SKY) / (H - SKY), last: deepest });
  return svg;
}
// The fish can be taken by the hand and moved up and down; meanwhile the picture keeps its scale. Whoever cannot do
// that has the slider.
const hand = { deepest: null };
function takeFish() {
  const stage = $("stage"), c = control("fish.depth");
  stage.addEventListener("pointerdown", (e) => {
    if (!e.target.closest?.(".fish") || !shown) return;
    e.preventDefault();
    stage.setPointerCapture(e.pointerId);
    hand.deepest = hand.last;
  });
  stage.addEventListener("pointermove", (e) => {
    if (hand.deepest === null) return;
    const box = stage.firstChild.getBoundingClientRect(), u = scale(c);
    const value = toShown(c, hand.scale((e.clientY - box.top) / box.height));
    put(c, Math.min(mostOf(c), Math.max(u.min, Math.round(value / u.step) * u.step)));
  });
  for (const end of ["pointerup", "pointercancel"]) {
    stage.addEventListener(end, () => {
      if (hand.deepest === null) return;
      hand.deepest = null;
      moved();
    });
  }
}
// The same in words.
function told(answer) {
  const said = answer.said.baits.map((b) => b.reach).join(" ");
  return `The water from the side. The fish hangs at ${depthText(answer.stage.fish.depth_m)}. ${said}`;
}
function sky(marks, stage, answer, { W, SKY, left, right, narrow }) {
  const up = stage.sun.elevation_deg, cloud = answer.odds.scenario.sky.cloud;
  const day = Math.min(1, Math.max(0, (up + 6) / 20));
  marks.push(mark("rect", { x: 0, y: 0, width: W, height: SKY, fill: mix("#26333f", mix("#e6eff2", "#cfd6da", cloud), day) }));
  const text = day > 0.5 ? "#1b2731" : "#ffffff";
  const now = clockHours(answer.odds.scenario.when.time);
  const at = (hour) => left + (right - left) * hour / 24;
  const high = (deg) => SKY - 4 - (SKY - 20) * Math.max(0, deg) / 90;
  const arc = stage.sun_by_hour.filter((p) => p[1] > 0).map((p) => `${at(p[0]).toFixed(1)},${high(p[1]).toFixed(1)}`);
  if (arc.length > 1) marks.push(mark("polyline", { points: arc.join(" "), fill: "none", stroke: text, "stroke-opacity": 0.45, "stroke-dasharray": "2 4" }));
  if (up > -0.8) marks.push(mark("circle", { cx: at(now), cy: high(up), r: narrow ? 7 : 9, fill: "#dc922c", stroke: "#fff", "stroke-width": 1.5, "fill-opacity": 1 - 0.6 * cloud }));
  const clouds = Math.round(cloud * 6);
  for (let i = 0; i < clouds; i++) {
    const cx = left + (right - left) * (i + 0.5) / 6;
    marks.push(mark("path", { d: `M${(cx - 24).toFixed(1)},15 a8,8 0 0 1 12,-7 a11,9 0 0 1 20,2 a7,7 0 0 1 10,5 z`, fill: "#fff", "fill-opacity": 0.6, stroke: "#5a6872", "stroke-opacity": 0.35 }));
  }
  const words = up > 0 ? `sun ${Math.round(up)}° high` : up > -6 ? "sun just below the horizon" : "night";
  const end = at(now) > W * 0.6;
  marks.push(label(at(now) + (end ? -14 : 14), Math.min(SKY - 6, high(up) + 4), words, { fill: text, "font-size": 12, "text-anchor": end ? "end" : "start" }));
}
function depthAxis(marks, { y, deepest, left, ink, SKY }) {
  const per = state.units === "us" ? FOOT : 1, unit = state.units === "us" ? "ft" : "m";
  const span = deepest / per, step = [0.5, 1, 2, 5, 10, 20].find((s) => span / s <= 7) ?? 20;
  for (let v = step; v < span * 0.98; v += step) {
    const at = y(v * per);
    marks.push(mark("line", { x1: left - 6, x2: left, y1: at, y2: at, stroke: ink(v * per) }));
    marks.push(label(left - 9, at + 4, String(v), { "text-anchor": "end", fill: ink(v * per), "font-size": 12 }));
  }
  marks.push(label(6, SKY + 15, unit, { fill: ink(0), "font-size": 12 }));
}
// The line around all places at which the fish sees the bait; to both sides alike.
function outline(seen, cx, cy, px, i) {
  const half = seen.map(([deg, r]) => [r * Math.cos(deg * Math.PI / 180) * px.x, -r * Math.sin(deg * Math.PI / 180) * px.y]);
  const all = [...half, ...half.slice().reverse().map(([dx, dy]) => [-dx, dy])];
  const d = "M" + all.map(([dx, dy]) => `${(cx + dx).toFixed(1)},${(cy + dy).toFixed(1)}`).join("L") + "Z";
  const colour = SHOWN[i];
  return [
    mark("path", { d, fill: colour, "fill-opacity": 0.13 }),
    mark("path", { d, fill: "none", stroke: "#fff", "stroke-width": 3.4, "stroke-opacity": 0.75 }),
    mark("path", { d, fill: "none", stroke: colour, "stroke-width": 1.9, "stroke-dasharray": i ? "7 4" : "none" }),
  ];
}
// On the water the two baits keep one colour by day and night: deep blue unbroken, amber broken.
const SHOWN = ["#18355d", "#dc922c"];
const CALLED = ["A", "B"];
function runOf(bait, i, { x, y, fishX, narrow }) {
  const points = bait.path.map(([reeled, z]) => `${x(reeled).toFixed(1)},${y(z).toFixed(1)}`).join(" ");
  const nearest = bait.path.reduce((best, p) => (Math.abs(x(p[0]) - fishX) < Math.abs(x(best[0]) - fishX) ? p : best));
  const at = [x(nearest[0]) + (i ? 34 : -34), y(nearest[1])];
  return [
    mark("polyline", { points, fill: "none", stroke: "#fff", "stroke-width": 4.6, "stroke-opacity": 0.8 }),
    mark("polyline", { points, fill: "none", stroke: SHOWN[i], "stroke-width": 2.8, "stroke-dasharray": i ? "8 4" : "none" }),
    mark("path", { d: body(narrow ? 26 : 34, narrow ? 5 : 6.5), transform: `translate(${at[0].toFixed(1)} ${at[1].toFixed(1)})`, fill: SHOWN[i], stroke: "#fff", "stroke-width": 1 }),
    label(at[0], at[1] - 9, CALLED[i], { "text-anchor": "middle", fill: SHOWN[i], stroke: "#fff", "stroke-width": 3.5, "paint-order": "stroke", "font-weight": "bold", "font-size": 15 }),
  ];
}

// A hundred passes as dots in ten rows: round for A, square for B.
function drawDots(strikes, i) {
  const counts = [strikes.low, strikes.median, strikes.high].map(Math.round);
  const marks = [];
  for (let n = 0; n < 100; n++) {
    const cx = 9 + (n % 20) * 12, cy = 8 + Math.floor(n / 20) * 12;
    const kind = n < counts[0] ? 0 : n < counts[1] ? 1 : n < counts[2] ? 2 : 3;
    const r = kind === 3 ? 1.8 : 4.4;
    const look = { fill: kind === 3 ? "var(--line)" : kind === 2 ? "none" : `var(--${i ? "bfill" : "a"})`, stroke: kind === 3 ? "none" : `var(--${i ? "b" : "a"})`, "stroke-width": 1.4, "fill-opacity": kind === 1 ? 0.5 : 1 };
    marks.push(i ? mark("rect", { x: cx - r, y: cy - r, width: 2 * r, height: 2 * r, ...look }) : mark("circle", { cx, cy, r, ...look }));
  }
  return picture(246, 64, `${CALLED[i]}: ${per100(strikes.median)} of 100 passes end in a strike, ${per100(strikes.low)} to ${per100(strikes.high)}`, marks);
}

const STAGES = [["never_noticed", "never noticed"], ["stayed_put", "noticed, stayed put"], ["turned_away", "came, turned away"], ["struck", "struck"]];
function drawLosses(baits, width) {
  const W = Math.min(560, width), left = 4, full = W - 52, step = 58;
  const marks = [];
  STAGES.forEach(([key, words], row) => {
    const top = row * step;
    marks.push(label(left, top + 15, words, {}));
    baits.forEach((bait, i) => {
      const value = bait.losses[key], y = top + 20 + i * 16;
      marks.push(mark("rect", { x: left + 16, y, width: Math.max(1, full * value / 100), height: 13, fill: `var(--${i ? "bfill" : "a"})`, "fill-opacity": i ? 0.85 : 1 }));
      marks.push(label(left, y + 11, CALLED[i], { "font-size": 12, "font-weight": "bold" }));
      marks.push(label(left + 20 + full * value / 100, y + 11, value < 0.5 ? "<1" : value.toFixed(0), { "font-size": 12 }));
    });
  });
  const said = baits.map((b, i) => `${CALLED[i]}: ` + STAGES.map(([k, w]) => `${w} ${b.losses[k].toFixed(0)}`).join(", ")).join("; ");
  return picture(W, STAGES.length * step, `Of 100 passes. ${said}`, marks);
}
