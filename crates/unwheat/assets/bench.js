// The bench: ticks, weights and timers are kept on this tablet first and sent when the laptop
// answers. Every tick and weight works by a form without this file.
import { keepAwake } from "./awake.js";
import { left } from "./left-at-bench.js";
import * as timers from "./timers.js";

const root = document.querySelector("[data-bench]");
const id = root.dataset.bench;
const place = `unwheat bench ${id} ${root.dataset.begun}`;
const net = document.getElementById("net");
const said = document.getElementById("bench-said");

let state = JSON.parse(root.dataset.state);
let waiting = [];
let skew = state.now - Date.now();
let away = false;
let over = false;
/** What this tablet noted, where another device's later word stands in its place. */
const others = new Map();
/** What stood in a line before what this tablet, or another, noted last. */
let before = new Map();
/** What this tablet noted after the batch was finished elsewhere. */
let late = "";
/** Why the laptop takes nothing from this tablet, where and how to mend it. */
let shut = null;
/** The kitchen went back to a backup of before some of what was done here. */
let wentBack = false;

/** The laptop's clock, as far as this tablet knows it. */
const now = () => Date.now() + skew;

function say(words) {
  said.textContent = "";
  requestAnimationFrame(() => { said.textContent = words; });
}

// ---- kept on this tablet ----
function load() {
  try {
    const kept = JSON.parse(localStorage.getItem(place) ?? "{}");
    waiting = Array.isArray(kept.waiting) ? kept.waiting : [];
    before = new Map(kept.before ?? []);
    // A page kept by bench-worker.js is older than what the laptop said since.
    if (kept.state?.now >= state.now) ({ state, skew } = kept);
    else if (kept.state) sendAgain(kept.state);
  } catch { waiting = []; }
}
function save() {
  try {
    if (over) localStorage.removeItem(place); else localStorage.setItem(place, JSON.stringify({ waiting, state, skew, before: [...before], title: root.dataset.title, called }));
  } catch { /* kept in this page alone */ }
}

let last = 0;
function push(...done) {
  for (const d of done) {
    const same = (w) => w.do === d.do && (d.do === "timer" ? w.timer.uid === d.timer.uid : w.item === d.item);
    waiting = waiting.filter((w) => !same(w));
    // A number of its own: what is pushed while a sending is under way stays.
    waiting.push({ ...d, n: (last = Math.max(last + 1, Date.now())) });
  }
  save();
  draw();
  flush();
}

// ---- what is true: the laptop's word, and over it what waits here ----
function mark(item) {
  const m = { ticked: false, actual: null, ...state.marks[item] };
  for (const w of waiting) {
    if (w.item !== item) continue;
    if (w.do === "tick") m.ticked = w.ticked;
    if (w.do === "actual") m.actual = w.actual;
  }
  return m;
}
function allTimers() {
  const all = new Map(state.timers.map((t) => [t.uid, t]));
  for (const w of waiting) if (w.do === "timer" && !all.get(w.timer.uid)?.done) all.set(w.timer.uid, w.timer);
  return [...all.values()];
}

const lines = [...document.querySelectorAll(".item")];
const of = new Map(lines.map((l) => [l.dataset.item, l]));
const isPart = (l) => l.classList.contains("flour");
const partsOf = (l) => lines.filter((x) => isPart(x) && x.dataset.item.startsWith(`${l.dataset.item}/`));
const blendOf = (l) => (isPart(l) ? of.get(l.dataset.item.slice(0, l.dataset.item.lastIndexOf("/"))) : null);

const called = Object.fromEntries(lines.map((l) => [l.dataset.item, l.dataset.name]));

/**
 * Where the kitchen went back to a backup, what was done here since that was made waits to be sent once
 * more, with its own time: of two words on one field the later holds.
 */
function sendAgain(had) {
  if (had.kitchen === undefined || had.kitchen === state.kitchen || state.finished) return;
  const done = [];
  for (const [item, { ticked, actual, at }] of Object.entries(had.marks)) {
    const is = { ticked: false, actual: null, ...state.marks[item] };
    if (ticked !== is.ticked) done.push({ do: "tick", item, ticked, at });
    if (actual !== is.actual) done.push({ do: "actual", item, actual, at });
  }
  for (const timer of had.timers) if (!state.timers.some((t) => t.uid === timer.uid)) done.push({ do: "timer", timer });
  const here = (d) => waiting.some((w) => w.do === d.do && w.item === d.item && w.timer?.uid === d.timer?.uid);
  waiting.push(...done.filter((d) => !here(d)).map((d) => ({ ...d, n: (last = Math.max(last + 1, Date.now())) })));
  wentBack ||= done.length > 0;
}

function figure(g) { return String(Number(g.toFixed(2))); }
function really(actual, plan) {
  if (actual == null) return "";
  if (plan == null) return `really ${figure(actual)} g`;
  const off = Math.round((actual - plan) * 100) / 100;
  // A digit too many or too few: as `bench::view::really` has it.
  const far = plan > 0 && (actual >= 3 * plan || actual * 3 <= plan);
  return `really ${figure(actual)} g: ${off === 0 ? "as planned" : `${figure(Math.abs(off))} g ${off > 0 ? "more" : "less"}`}${far ? ". Is that right?" : ""}`;
}

function backTo(grams) { return grams == null ? "Take the note back" : `Back to ${figure(grams)} g`; }

function draw() {
  for (const l of lines) {
    const m = mark(l.dataset.item);
    const box = l.querySelector("input[type=checkbox]");
    if (box.checked !== m.ticked) box.checked = m.ticked;
    l.classList.toggle("done", m.ticked);
    if (l.matches(".step")) continue;
    const words = really(m.actual, l.dataset.plan == null ? null : Number(l.dataset.plan)) + (others.get(l.dataset.item) ?? "");
    const told = l.querySelector(".really");
    if (told.textContent !== words) told.textContent = words;
    const back = l.querySelector(".back");
    const was = before.get(l.dataset.item);
    back.hidden = was === undefined || was === m.actual;
    const to = back.querySelector(".to");
    if (!back.hidden && to.textContent !== backTo(was)) to.textContent = backTo(was);
    const field = l.querySelector("details [name=actual]");
    if (!l.querySelector("details").open) field.value = m.actual == null ? "" : figure(m.actual);
  }
  for (const part of document.querySelectorAll("[data-part]")) {
    const own = [...part.querySelectorAll(".item:not(.flour, .step)")];
    const done = own.filter((l) => isDone(l.dataset.item)).length;
    const count = document.querySelector(`[data-count="${part.dataset.part}"]`);
    const words = done === own.length && done ? "✓ all weighed" : `${done} of ${own.length}`;
    if (count && count.textContent !== words) count.textContent = words;
  }
  next();
  timers.show(allTimers());
  tell();
}

// ---- what is next: what can be done now, all before it being done ----
const order = [...document.querySelectorAll("[data-next]")];
function next() {
  const passed = new Set();
  const pass = (key) => {
    if (passed.has(key)) return;
    passed.add(key);
    after(key).forEach(pass);
  };
  for (const li of order) if (isDone(li.dataset.next) || weighed(li)) pass(li.dataset.next);
  const can = order.filter((li) => !passed.has(li.dataset.next) && after(li.dataset.next).every((a) => passed.has(a)) && (!li.dataset.behind || passed.has(li.dataset.behind)));
  for (const li of order) {
    li.hidden = !can.includes(li);
    li.classList.toggle("first", li === can[0]);
    const late = li.querySelector(".late");
    const m = Math.floor((now() / 1000 - Number(li.dataset.by)) / 60);
    if (late && m < 1 && late.textContent) late.textContent = "";
    else if (late && m >= 1 && !late.textContent.startsWith(`${m} min`)) late.textContent = `${m} min late.`;
  }
  const also = document.getElementById("also");
  if (also) {
    also.hidden = can.length < 2;
    if (can[0] && can[0].nextElementSibling !== also) can[0].after(also);
  }
  const all = document.getElementById("all-done");
  if (all) all.hidden = can.length > 0;
}
const known = new Map(order.map((li) => [li.dataset.next, li.dataset.after.split("\n").filter((a) => order.some((x) => x.dataset.next === a))]));
function after(key) { return known.get(key) ?? []; }
/** What the scale showed was weighed, ticked or not. */
function isDone(item) { return mark(item).ticked || mark(item).actual != null; }
function weighed(li) {
  if (!("weigh" in li.dataset)) return false;
  const own = [...parts[li.dataset.of].querySelectorAll(".item:not(.flour, .step)")];
  return own.length > 0 && own.every((l) => isDone(l.dataset.item));
}

/** What the kitchen has learnt of the batch since the page was loaded: a label that names gluten. */
function heed(words) {
  const stop = document.getElementById("stop");
  const said = stop.querySelector("strong");
  if (said.textContent === words) return;
  said.textContent = words;
  stop.hidden = !words;
}

/** What stands between this tablet and the laptop, with a way on where there is one. */
let told = "";
function tell() {
  const [words, to, way] = over ? [`This batch was finished on another device.${late}`, root.dataset.bakes, "See its record"]
    : shut ? shut
    : away && waiting.length ? ["Kept on this tablet, sent when the laptop answers"]
    : away ? ["The laptop does not answer. Go on: what you do is kept on this tablet"]
    : wentBack ? ["The kitchen went back to a backup. What was ticked and weighed here since that was made is sent to it again."] : [""];
  if (words === told) return;
  told = words;
  net.hidden = !words;
  net.replaceChildren(words);
  if (to) {
    const a = document.createElement("a");
    a.href = to;
    a.textContent = way;
    net.append(" ", a);
  }
  say(words || "The laptop answers again, all is sent");
}

// ---- to the laptop and back ----
let busy = false;
let wait = 1000;
let again = 0;

async function talk() {
  const sent = waiting.slice();
  const stop = new AbortController();
  const slow = setTimeout(() => stop.abort(), 8000);
  try {
    const how = sent.length
      ? { method: "POST", body: new URLSearchParams({ seal: root.dataset.seal, begun: root.dataset.begun, done: JSON.stringify(sent.map(({ n, ...d }) => d)) }) }
      : {};
    const began = Date.now();
    const answer = await fetch(`/bench/${id}/${sent.length ? "send" : "state"}`, { ...how, cache: "no-store", signal: stop.signal });
    if (!(answer.headers.get("content-type") ?? "").startsWith("application/json")) {
      if (answer.redirected) shut = ["Kept on this tablet. The laptop was started anew and asks for its words:", answer.url, "Open the workbench on this tablet again"];
      else if ([404, 409].includes(answer.status)) another();
      else if (answer.status < 500) shut = ["Kept on this tablet. The laptop does not know this page:", location.href, "Load it again"];
      else throw new Error(`answer ${answer.status}`);
      return false;
    }
    const got = await answer.json();
    if (String(got.begun) !== root.dataset.begun) { another(); return false; }
    skew = got.now - (began + Date.now()) / 2;
    const noted = new Map(lines.map((l) => [l.dataset.item, mark(l.dataset.item).actual]));
    const had = state;
    state = got;
    waiting = waiting.filter((w) => !sent.some((s) => s.n === w.n));
    sendAgain(had);
    heed(got.stop ?? "");
    if (got.finished) {
      over = true;
      const notes = sent.filter((d) => d.do === "actual" && (got.marks[d.item]?.actual ?? null) !== d.actual && d.actual != null);
      const words = notes.map((d) => `${of.get(d.item)?.dataset.name ?? d.item} ${figure(d.actual)} g`);
      if (words.length) late = ` Noted here and not in it: ${words.join(", ")}. Add it there as a note.`;
    } else if (got.lost) say("Something kept here could not be taken: look at the lines.");
    for (const [item, was] of noted) {
      const now = mark(item).actual;
      if (was == null || now === was) continue;
      before.set(item, was);
      others.set(item, ` (noted on another device; here it was ${figure(was)} g)`);
      say(`${of.get(item).dataset.name}: another device noted ${now == null ? "nothing" : `${figure(now)} g`}; here it was ${figure(was)} g`);
    }
    save();
    if (over) keepPage({ forget: location.pathname });
    return true;
  } finally { clearTimeout(slow); }
}

/** The kitchen went back to a backup: this batch is not in it, or its number is another's. */
function another() {
  // Those that were sent are no more in it than those that were not.
  const noted = [...of].map(([item, line]) => [line.dataset.name ?? item, mark(item).actual]);
  const notes = noted.filter(([, actual]) => actual != null);
  const words = notes.map(([name, actual]) => `${name} ${figure(actual)} g`);
  shut = [`The kitchen went back to a backup, and this batch is not in it.${words.length ? ` Noted here and not in it: ${words.join(", ")}. Write it down.` : ""}`, "/", "All recipes"];
}

async function flush() {
  if (busy || over) return;
  busy = true;
  clearTimeout(again);
  let heard = false;
  try {
    heard = await talk();
    away = false;
    if (heard) { shut = null; wait = 1000; }
  } catch { away = true; }
  busy = false;
  draw();
  if (over) return;
  if (heard && waiting.length) { flush(); return; }
  const pause = heard ? 4000 : (wait = Math.min(wait * 2, 30000));
  again = setTimeout(() => { if (document.visibilityState === "visible" || waiting.length) flush(); }, pause);
}

// ---- what the baker does ----
/** Which flours of a blend were ticked before the whole of it was. */
const whole = new Map();
document.addEventListener("change", (e) => {
  const box = e.target;
  const line = box.closest?.(".item");
  if (!line || box.type !== "checkbox") return;
  const at = Math.round(now());
  const tick = (l, ticked = box.checked) => ({ do: "tick", item: l.dataset.item, ticked, at });
  const flours = partsOf(line);
  const were = flours.map((l) => mark(l.dataset.item).ticked);
  // A blend ticked by mistake and taken back leaves its flours as they were.
  const back = box.checked ? null : whole.get(line.dataset.item);
  if (box.checked) whole.set(line.dataset.item, were); else whole.delete(line.dataset.item);
  const done = [tick(line), ...flours.map((l, i) => tick(l, back ? back[i] : box.checked))];
  const blend = blendOf(line);
  if (blend) {
    whole.delete(blend.dataset.item);
    const all = box.checked && partsOf(blend).every((p) => p === line || mark(p.dataset.item).ticked);
    if (all !== mark(blend.dataset.item).ticked) done.push({ do: "tick", item: blend.dataset.item, ticked: all, at });
  }
  push(...done);
});

/** Keeps what stands in a line's field; says where it cannot. Returns whether it could. */
function note(form) {
  const line = form.closest(".item");
  const field = form.elements.actual;
  const text = field.value.trim().replace(/\s*g$/i, "").replace(",", ".");
  const grams = text === "" ? null : Number(text);
  const wrong = grams != null && !(grams >= 0 && grams <= 100000);
  const trouble = form.querySelector(".trouble");
  trouble.hidden = !wrong;
  trouble.textContent = wrong ? "Write grams, like 310 or 2.5." : "";
  if (wrong) field.setAttribute("aria-invalid", "true"); else field.removeAttribute("aria-invalid");
  if (!wrong) put(line, grams);
  return !wrong;
}

/** Notes what was weighed, what stood there before being a press away. */
function put(line, grams) {
  const item = line.dataset.item;
  const was = mark(item).actual;
  if (grams === was) return;
  others.delete(item);
  before.set(item, was);
  push({ do: "actual", item, actual: grams, at: Math.round(now()) });
  const words = really(grams, line.dataset.plan == null ? null : Number(line.dataset.plan)) || "no note";
  say(`${line.dataset.name}: ${words}${was == null ? "" : `; before ${figure(was)} g`}`);
}
document.addEventListener("submit", (e) => {
  const form = e.target;
  if (form.matches(".item .back")) {
    e.preventDefault();
    put(form.closest(".item"), before.get(form.closest(".item").dataset.item) ?? null);
    return;
  }
  if (!form.matches(".item .actual form")) return;
  e.preventDefault();
  if (!note(form)) { form.elements.actual.focus(); return; }
  const details = form.closest("details");
  details.open = false;
  details.querySelector("summary").focus();
});
// Typed and left, by a tap elsewhere or a reload, is meant.
document.addEventListener("change", (e) => { if (e.target.matches(".actual [name=actual]")) note(e.target.form); });
addEventListener("pagehide", () => {
  for (const form of document.querySelectorAll("details.actual[open] form")) note(form);
});
document.addEventListener("toggle", (e) => {
  if (e.target.matches?.("details.actual") && e.target.open) {
    const field = e.target.querySelector("[name=actual]");
    field.focus();
    field.select();
  }
}, true);

// ---- one component at a time ----
const parts = [...document.querySelectorAll("[data-part]")];
const tabs = [...document.querySelectorAll("[data-tab]")];
const names = tabs.map((t) => t.querySelector("span").textContent);
let open = Math.max(0, parts.findIndex((p) => !p.hidden));

function turn(to, focus) {
  open = Math.min(Math.max(to, 0), parts.length - 1);
  parts.forEach((p, i) => { p.hidden = i !== open; });
  tabs.forEach((t, i) => { if (i === open) t.setAttribute("aria-current", "page"); else t.removeAttribute("aria-current"); });
  for (const [way, at] of [["back", open - 1], ["on", open + 1]]) {
    const a = document.querySelector(`[data-way="${way}"]`);
    if (!a) continue;
    a.hidden = at < 0 || at >= parts.length;
    a.search = `?part=${at + 1}`;
    a.querySelector("span").textContent = names[at] ?? "";
  }
  document.getElementById("finish").classList.toggle("do", open === parts.length - 1);
  if (focus) {
    history.replaceState(null, "", `?part=${open + 1}`);
    const head = parts[open].querySelector("h2");
    head.focus({ preventScroll: true });
    scrollTo({ top: 0 });
  }
}
document.addEventListener("click", (e) => {
  if (e.ctrlKey || e.metaKey || e.shiftKey) return;
  const tab = e.target.closest?.("[data-tab]");
  const way = e.target.closest?.("[data-way]");
  const to = e.target.closest?.("[data-to]");
  if (to) {
    e.preventDefault();
    turn(Number(to.dataset.to), true);
    const at = document.querySelector(to.hash);
    at.scrollIntoView({ block: "center" });
    (at.querySelector("input") ?? at.querySelector("h2"))?.focus({ preventScroll: true });
    return;
  }
  if (!tab && !way) return;
  e.preventDefault();
  turn(tab ? Number(tab.dataset.tab) : open + (way.dataset.way === "on" ? 1 : -1), true);
});

// ---- this page, for a reload without the laptop ----
function files() {
  const links = [...document.querySelectorAll("link[href]")].map((l) => l.href);
  const all = [...performance.getEntriesByType("resource").map((e) => e.name), ...links].map((u) => new URL(u));
  return [...new Set(all.filter((u) => u.origin === location.origin && u.pathname.startsWith("/assets/")).map((u) => u.pathname))];
}
/** Where the browser allows it: on the laptop itself, not over the home network. */
async function keepPage(words) {
  try {
    await navigator.serviceWorker.register("/bench/worker.js");
    (await navigator.serviceWorker.ready).active.postMessage(words);
  } catch { /* a reload then needs the laptop */ }
}

// ---- on ----
const awake = document.getElementById("awake");
keepAwake((words) => { awake.hidden = false; if (awake.textContent !== words) awake.textContent = words; });
timers.setUp(now, (timer) => push({ do: "timer", timer }), say);
load();
draw();
left();
// With all its fonts, also those that nothing is written in yet: they come last.
Promise.allSettled([...document.fonts].map((f) => f.load())).then(() => keepPage({ keep: [location.pathname, ...files()] }));
setInterval(next, 15000);
addEventListener("online", () => { wait = 1000; flush(); });
document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") { wait = 1000; flush(); } });
addEventListener("pageshow", (e) => { if (e.persisted) flush(); });
// Without the laptop a reload may show nothing, and then no timer could ring.
addEventListener("beforeunload", (e) => { if (away && !over && timers.running()) e.preventDefault(); });
flush();
