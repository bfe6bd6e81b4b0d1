// Prepared lessons: a title, a state to start from, one thing to move, and what to notice.

let LESSONS = [];
function buildLessons() {
  LESSONS = JSON.parse($("lessons").textContent);
  $("lesson").replaceChildren(make("option", { value: "" }, "choose one"), ...LESSONS.map((l, k) => make("option", { value: String(k) }, l.title)));
  $("lesson").onchange = (e) => (e.target.value === "" ? $("lessonbody").replaceChildren() : startLesson(LESSONS[Number(e.target.value)]));
}
function startLesson(lesson) {
  Object.assign(state, { scenario: lesson.water, source: null, file: "", set: { ...lesson.set }, a: { name: lesson.a }, b: { name: lesson.b }, over: lesson.move.path });
  const c = control(lesson.move.path);
  const go = make("button", { type: "button", class: "main", id: "play", onclick: () => play(c, lesson) }, "Move it for me");
  const again = make("button", { type: "button", onclick: () => startLesson(lesson) }, "Back to the start");
  const hand = make("button", { type: "button", onclick: () => { $(idOf(c.path)).scrollIntoView({ block: "center" }); $(idOf(c.path)).focus(); } }, "Take me to it");
  const [from, to] = [lesson.move.from, lesson.move.to].map((v) => endText(c, v));
  $("lessonbody").replaceChildren(
    make("dl", {},
      make("dt", {}, "Ask"), make("dd", {}, lesson.ask),
      make("dt", {}, "Move"), make("dd", {}, `${c.name}: from ${from} to ${to}`),
      make("dt", {}, "Notice"), make("dd", {}, lesson.notice)),
    go, " ", hand, " ", again);
  reload();
}
// A lesson's value in the unit kept (a word or a clock time stay) in the reader's.
const endText = (c, kept) => (c.words ? kept : shownText(c, toShown(c, kept)));
// Moves it step by step, so that all can watch; any touch elsewhere stops it.
function play(c, lesson) {
  const STEPS = c.words ? 1 : 12, PAUSE = 350;
  const ends = [lesson.move.from, lesson.move.to].map((v) => (c.words ? v : toShown(c, v)));
  const begun = ++playing;
  const step = (k) => {
    if (begun !== playing) return;
    const t = k / STEPS;
    const value = c.words ? ends[k] : c.ratio ? ends[0] * (ends[1] / ends[0]) ** t : ends[0] + (ends[1] - ends[0]) * t;
    put(c, c.words ? value : Number(value.toPrecision(3)));
    if (k < STEPS) setTimeout(() => step(k + 1), PAUSE);
  };
  step(0);
}
let playing = 0;
addEventListener("pointerdown", (e) => { if (e.target.id !== "play") playing++; });
addEventListener("keydown", () => { playing++; }, true);
