// Timers: several at once, by the moment they end, so that a reload, a sleep or a lost
// connection takes nothing from them. The sound is made here.

const list = document.getElementById("running");
const rung = document.getElementById("rung");
const mute = document.getElementById("mute");
const title = document.title;
let audio = null;
let timers = [];
let clock = Date.now;
let keep = () => {};
let tell = () => {};
let sounded = 0;
/** The timer that was stopped last before its time, as it was. */
let before = null;

/** A name no other timer of the batch has. */
function uid() {
  return Array.from(crypto.getRandomValues(new Uint8Array(9)), (b) => b.toString(16).padStart(2, "0")).join("");
}

function unlock() {
  try {
    audio ??= new AudioContext();
    if (audio.state !== "running") audio.resume();
  } catch { /* no sound in this browser: the words and the title still tell */ }
}

/** Three rising tones. */
function ring() {
  if (!audio || audio.state !== "running") return;
  [659, 784, 988].forEach((pitch, i) => {
    const at = audio.currentTime + 0.05 + i * 0.28;
    const tone = audio.createOscillator();
    const loud = audio.createGain();
    tone.type = "triangle";
    tone.frequency.value = pitch;
    loud.gain.setValueAtTime(0.0001, at);
    loud.gain.exponentialRampToValueAtTime(0.6, at + 0.03);
    loud.gain.exponentialRampToValueAtTime(0.0001, at + 0.26);
    tone.connect(loud).connect(audio.destination);
    tone.start(at);
    tone.stop(at + 0.3);
  });
}

function left(t) { return t.ends == null ? (t.left ?? t.seconds) : (t.ends - clock()) / 1000; }
function over(t) { return !t.done && t.ends != null && t.ends <= clock(); }

function digits(seconds) {
  const s = Math.max(0, Math.ceil(seconds - 0.05));
  const two = (n) => String(n).padStart(2, "0");
  const h = Math.floor(s / 3600);
  return h ? `${h}:${two(Math.floor((s % 3600) / 60))}:${two(s % 60)}` : `${Math.floor(s / 60)}:${two(s % 60)}`;
}
function since(seconds) {
  const m = Math.floor(seconds / 60);
  if (m < 1) return "ended just now";
  return m < 60 ? `ended ${m} min ago` : `ended ${Math.floor(m / 60)} h ${m % 60} min ago`;
}

function button(words, label, act, kind = "") {
  const b = document.createElement("button");
  b.type = "button";
  b.className = `big ${kind}`;
  b.textContent = words;
  b.setAttribute("aria-label", `${words}: ${label}`);
  b.addEventListener("click", act);
  return b;
}

function put(t, words) {
  timers = timers.filter((x) => x.uid !== t.uid).concat(t);
  keep(t);
  tell(words);
  draw();
}

/** Starts one. */
export function start(label, seconds) {
  unlock();
  put({ uid: uid(), label, seconds, ends: Math.round(clock() + seconds * 1000), left: null, done: false }, `Timer ${label} started`);
}
function pause(t) { put({ ...t, ends: null, left: Math.max(0, left(t)) }, `${t.label} held`); }
function goOn(t) { put({ ...t, ends: Math.round(clock() + left(t) * 1000), left: null }, `${t.label} goes on`); }
function minute(t) {
  const rest = Math.max(0, left(t)) + 60;
  const held = t.ends == null;
  put({ ...t, seconds: t.seconds + 60, ends: held ? null : Math.round(clock() + rest * 1000), left: held ? rest : null }, `One minute more: ${t.label}`);
}
function stop(t) {
  before = over(t) ? null : t;
  put({ ...t, ends: null, left: null, done: true }, `${t.label} stopped`);
  list.querySelector("button")?.focus();
}
/** As if it had never been stopped; under a name of its own, for one that is stopped stays so. */
function takeBack() {
  const t = { ...before, uid: uid() };
  before = null;
  put(t, `${t.label} goes on`);
}

/** The rows are made anew only when what can be done about them changes. */
function draw() {
  const shown = timers.filter((t) => !t.done).sort((a, b) => left(a) - left(b));
  const shape = shown.map((t) => `${t.uid}${t.label}${over(t)}${t.ends == null}`).join() + (before?.uid ?? "");
  if (list.dataset.shape !== shape) {
    const had = document.activeElement?.closest?.("#running li")?.dataset.uid;
    const which = document.activeElement?.dataset?.act;
    list.dataset.shape = shape;
    list.replaceChildren(...shown.map(row), ...(before ? [stopped(before)] : []));
    if (had) (list.querySelector(`[data-uid="${had}"] [data-act="${which}"]`) ?? list.querySelector(`[data-uid="${had}"] button`))?.focus({ preventScroll: true });
  }
  for (const t of shown) {
    const face = list.querySelector(`[data-uid="${t.uid}"] .face`);
    const words = over(t) ? since(-left(t)) : digits(left(t));
    if (face && face.textContent !== words) face.textContent = words;
  }
  // Before the first tap a browser gives no sound.
  mute.hidden = heard() || !running();
  alarm(shown.filter(over));
}

function row(t) {
  const li = document.createElement("li");
  li.dataset.uid = t.uid;
  const name = document.createElement("span");
  name.className = "label";
  const face = document.createElement("span");
  face.className = "face n";
  const acts = document.createElement("span");
  acts.className = "acts";
  // Always by the newest state: the minutes of another device may have come in between.
  const now = (act) => () => { const x = timers.find((y) => y.uid === t.uid); if (x) act(x); };
  const add = (key, ...b) => { const made = button(...b); made.dataset.act = key; acts.append(made); };
  if (over(t)) {
    li.className = "rung";
    name.textContent = `${t.label}: time is up`;
    add("stop", "Stop", t.label, now(stop), "do huge");
    add("minute", "+ 1 min", t.label, now(minute));
  } else {
    name.textContent = t.ends == null ? `${t.label}, held` : t.label;
    if (t.ends == null) add("hold", "Go on", t.label, now(goOn), "do"); else add("hold", "Pause", t.label, now(pause));
    add("minute", "+ 1 min", t.label, now(minute));
    add("stop", "Stop", t.label, now(stop));
  }
  li.append(name, face, acts);
  return li;
}

/** A timer that was stopped, with the way back. */
function stopped(t) {
  const li = document.createElement("li");
  li.dataset.uid = t.uid;
  const name = document.createElement("span");
  name.className = "label";
  name.textContent = `${t.label}, stopped`;
  const acts = document.createElement("span");
  acts.className = "acts";
  acts.append(button("Take back", t.label, takeBack));
  li.append(name, acts);
  return li;
}

let told = "";
function alarm(ended) {
  const names = ended.map((t) => t.label).join(", ");
  if (names !== told) { told = names; rung.textContent = names ? `Time is up: ${names}` : ""; }
  if (!ended.length) { if (document.title !== title) document.title = title; return; }
  document.title = Math.floor(Date.now() / 1000) % 2 ? `◉ ${names}` : `○ ${names}`;
  if (Date.now() - sounded > 2500) { sounded = Date.now(); ring(); }
}

/** The state of all, from the laptop and what waits here. */
export function show(all) { timers = all; draw(); }

/** Whether the sound may be heard. */
export function heard() { return audio?.state === "running"; }

/** Whether one runs or rings. */
export function running() { return timers.some((t) => !t.done && t.ends != null); }

/** Sets the page's timers up. `now` is the laptop's clock, `kept` takes a changed timer, `said` speaks. */
export function setUp(now, kept, said) {
  clock = now; keep = kept; tell = said;
  // A finger counts as a tap once it is lifted, a mouse or a key as it goes down.
  for (const event of ["pointerdown", "pointerup", "click", "keydown"]) document.addEventListener(event, unlock);
  for (const li of document.querySelectorAll("[data-offer]")) {
    const b = document.createElement("button");
    b.type = "button";
    b.className = "big";
    b.append(...[...li.childNodes].filter((n) => n.nodeName !== "NOSCRIPT"));
    b.insertAdjacentHTML("afterbegin", "<span aria-hidden='true'>◷</span> <span class='unseen'>Start a timer: </span>");
    b.addEventListener("click", () => start(li.dataset.offer, Number(li.dataset.seconds)));
    li.append(b);
  }
  const form = document.querySelector(".own-timer");
  const trouble = document.getElementById("t-trouble");
  document.getElementById("more-timer").hidden = false;
  form.addEventListener("submit", (e) => {
    e.preventDefault();
    const field = document.getElementById("t-min");
    const minutes = Number(field.value.trim().replace(",", "."));
    const right = minutes > 0 && minutes <= 10080;
    trouble.hidden = right;
    trouble.textContent = right ? "" : "Write minutes, like 20 or 2.5.";
    if (!right) { field.setAttribute("aria-invalid", "true"); field.focus(); return; }
    field.removeAttribute("aria-invalid");
    start(document.getElementById("t-for").value.trim() || "Timer", minutes * 60);
    form.reset();
    form.closest("details").open = false;
    form.closest("details").querySelector("summary").focus();
  });
  document.getElementById("try-sound").addEventListener("click", () => {
    unlock();
    setTimeout(() => { ring(); tell(heard() ? "Three rising tones" : "This browser gives no sound"); }, 120);
  });
  // What gets the focus comes to stand below the timers, however many run.
  const bar = list.closest(".timers");
  new ResizeObserver(() => { document.documentElement.style.scrollPaddingTop = `${bar.offsetHeight + 16}px`; }).observe(bar);
  setInterval(draw, 250);
  document.addEventListener("visibilitychange", draw);
}
