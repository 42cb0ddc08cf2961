// Sends changed figures as they are changed and patches the page with what follows from them.
// Every form works without this file.
import { hold, patch, release } from "./patch.js";
import { left } from "./left-at-bench.js";
import { carry, letGo, look, named } from "./went-back.js";
import "./needed.js";

const main = document.getElementById("main");
const said = document.getElementById("said");

/** Speaks to those who listen to the page. */
export function say(words) {
  if (!said || !words) return;
  said.textContent = "";
  requestAnimationFrame(() => { said.textContent = words; });
}

/** Milliseconds without a key: then a figure is taken to stand. */
const REST = 2000;
let resting = 0;
let spoken = "";
/** Speaks what a change did: while a figure is typed only after a rest, since half a figure is none. */
export function speak(words, typing) {
  clearTimeout(resting);
  if (typing) { resting = setTimeout(() => { spoken = words; say(words); }, REST); return; }
  if (words !== spoken) say(words);
  spoken = "";
}

let sending = Promise.resolve();
let under = 0;
const waiting = new Map();
// Forms whose change met another window's: what they sent stands in the question to the reader.
const clashed = new WeakSet();
// The field such a change was typed in: what is in it is carried over a loading until one of the two is chosen.
let unsettled = null;

/**
 * Sends a form as it is now; changes of one page go one after the other, and of one field being
 * typed in only the last. Until its answer is there, the form keeps what was typed in it.
 */
function send(form, submitter, typing) {
  const id = form.dataset.k ?? form;
  const data = new FormData(form, submitter ?? null);
  const typed = form.querySelector("[data-typed]");
  if (typing) {
    if (waiting.has(id)) { waiting.set(id, data); return; }
    waiting.set(id, data);
  }
  hold(form);
  under += 1;
  sending = sending.then(async () => {
    if (clashed.has(form)) return;
    let body = data;
    if (typing) {
      body = waiting.get(id);
      waiting.delete(id);
    }
    // All that is typed at one visit to a field is one change: one undo takes it back, and what it did
    // is told from where the visit began.
    if (typed?.dataset.begun && !submitter) {
      body.set("join", "1");
      body.set("since", typed.dataset.begun);
    }
    // The answer before this one has brought a newer state.
    const rev = document.querySelector("[data-rev]");
    if (rev && body.has("rev")) body.set("rev", rev.dataset.rev);
    await post(form, new URLSearchParams(body), typing);
  }).catch((e) => console.error(e)).finally(() => { release(form); under -= 1; });
}

// What was sent and never answered: the workbench may have it all the same.
const lost = new Map();

async function post(form, data, typing) {
  const began = performance.now();
  const id = form.dataset.k ?? form;
  for (const value of lost.get(id) ?? []) data.append("sent", value);
  let answer;
  try {
    answer = await fetch(form.action, { method: "POST", body: data, headers: { "x-live": "1" } });
    lost.delete(id);
  } catch {
    if (data.has("value")) lost.set(id, new Set([...(lost.get(id) ?? []), data.get("value")]));
    trouble(form, "The workbench does not answer. What you typed stays here: start unwheat again, then press Enter.");
    return;
  }
  if (!(answer.headers.get("content-type") ?? "").startsWith("application/json")) {
    if (answer.redirected) { location.assign(answer.url); return; }
    const text = await answer.text();
    const doc = new DOMParser().parseFromString(text, "text/html");
    trouble(form, doc.querySelector("main p")?.textContent ?? "That could not be used.");
    look();
    return;
  }
  const got = await answer.json();
  if (answer.status === 409) {
    const field = form.querySelector("[data-typed]");
    if (field) { carry(field); unsettled = named(field); }
    // Half a figure is no choice to put before anyone: the whole one comes when the field is left.
    if (typing) { trouble(form, CLASH, { wrong: false }); return; }
    clashed.add(form);
  }
  if (got.go) { location.assign(got.go); return; }
  if (got.trouble) {
    if (typing) return;
    await takeBack(form);
    trouble(form, got.trouble);
    return;
  }
  trouble(form, "");
  const field = form.querySelector("[data-typed]");
  if (got.rev && unsettled && field && named(field) === unsettled) settled();
  // The patch takes the marks off.
  const begun = typing && (field?.dataset.begun ?? (got.said && data.get("rev")));
  show(form, got, began, { typing });
  if (begun && field) Object.assign(field.dataset, { begun, kept: data.get("value") });
}

const CLASH = "Another window changed this too, so what you type here is not kept yet. Go on: when you leave the field, both stand side by side and you choose.";

/** Two windows' values are down to one: nothing of the other is carried any more. */
function settled() {
  if (unsettled) letGo(unsettled);
  unsettled = null;
}

/** A figure that cannot be used leaves nothing of itself: what stood before it stands again. */
async function takeBack(form) {
  const field = form.querySelector("[data-typed]");
  if (!field?.dataset.begun) return;
  const { begun, kept } = field.dataset;
  delete field.dataset.begun;
  const data = new URLSearchParams(new FormData(form));
  data.delete("value");
  for (const [name, value] of Object.entries({ way: "drop", since: begun, sent: kept })) data.set(name, value);
  const rev = document.querySelector("[data-rev]");
  if (rev) data.set("rev", rev.dataset.rev);
  const answer = await fetch(form.action.replace(/change$/, "undo"), { method: "POST", body: data, headers: { "x-live": "1" } });
  if ((answer.headers.get("content-type") ?? "").startsWith("application/json")) {
    // What is wrong is said, no more, nor what stood for a moment.
    if (said) said.textContent = "";
    show(form, await answer.json(), performance.now(), { keep: true });
  }
}

const REFUSED = "[aria-invalid=true]";

/** Shows the page as it is now, where it differs; what was typed in the form may be kept. */
function show(form, got, began, { keep = false, typing = false } = {}) {
  // While two values stand to be chosen from, later changes are kept but not shown.
  if (got.main && !main.querySelector(".clash")) {
    const fresh = document.createElement("main");
    fresh.innerHTML = got.main;
    for (const a of main.attributes) fresh.setAttribute(a.name, a.value);
    const had = document.activeElement;
    const stood = had.getBoundingClientRect().top;
    const near = around(had);
    const undone = form.dataset.k === "undo";
    const refused = undone ? [...main.querySelectorAll("input" + REFUSED)].map((f) => [f, f.defaultValue]) : [];
    if (!keep) release(form);
    patch(main, fresh);
    if (!keep) hold(form);
    // Undone with the focus in the figure: it shows what is true again. So does a figure that was taken back under
    // what was refused in its field.
    if (undone && had?.matches(`[data-typed]:not(${REFUSED})`)) had.value = had.defaultValue;
    for (const [field, was] of refused) if (field.isConnected && field.defaultValue !== was) forget(field);
    if (had !== document.body) {
      if (!seen(had)) refocus(near);
      // Lines above may have grown: what is being typed in stays where the eyes are.
      else {
        if (document.activeElement !== had) had.focus({ preventScroll: true });
        scrollBy({ top: had.getBoundingClientRect().top - stood, behavior: "instant" });
      }
    }
    document.dispatchEvent(new CustomEvent("patched"));
  }
  main.dataset.took = (performance.now() - began).toFixed(1);
  speak(got.said, typing);
}

const STOPS = "a[href], button, input:not([type=hidden]), select, textarea, summary";
const seen = (e) => e.isConnected && e.checkVisibility();

/** What stands around an element within its section, nearest first, what comes after it before what comes before it. */
function around(e) {
  const near = [];
  for (let at = e; at && !at.matches("main, section, header, .settled, body"); at = at.parentElement) {
    near.push(at);
    for (let s = at.nextElementSibling; s; s = s.nextElementSibling) near.push(s);
    for (let s = at.previousElementSibling; s; s = s.previousElementSibling) near.push(s);
  }
  return near;
}

/** The focus was on something that is gone: it goes to what is left nearest to it, else to what comes next. */
function refocus(near) {
  const stop = (e) => [e, ...e.querySelectorAll(STOPS)].find((x) => x.matches(STOPS) && seen(x));
  const left = near.filter(seen).map(stop).find(Boolean);
  (left ?? main.querySelector(".doubts button") ?? main.querySelector(".next a") ?? main).focus();
}

/** Takes what was refused out of its field, with its note: what stood before it stands again. */
function forget(field) {
  field.value = field.defaultValue;
  trouble(field.form, "");
}

function inView(e) {
  const { top, bottom } = e.getBoundingClientRect();
  return top >= 0 && bottom <= innerHeight;
}

/** Says beside a form's field what stands in the way; `wrong` is whether what is typed is at fault. */
function trouble(form, words, { wrong = true } = {}) {
  const field = form.querySelector("input:not([type=hidden]), select, textarea");
  const id = `trouble-${form.dataset.k ?? "form"}`;
  let note = document.getElementById(id);
  if (!words) {
    note?.remove();
    field?.removeAttribute("aria-invalid");
    field?.removeAttribute("aria-describedby");
    return;
  }
  if (!note) {
    note = document.createElement("p");
    note.id = id;
    note.className = "trouble";
    note.setAttribute("role", "alert");
    if (wrong || !field) form.after(note);
    else {
      note.classList.add("stays");
      const stood = field.getBoundingClientRect().top;
      field.before(note);
      note.textContent = words;
      scrollBy({ top: field.getBoundingClientRect().top - stood, behavior: "instant" });
    }
  }
  // The same again is not spoken again.
  if (note.textContent !== words) {
    const had = document.activeElement;
    const saw = inView(had);
    note.textContent = words;
    if (saw && !inView(had)) had.scrollIntoView({ block: "nearest", behavior: "instant" });
  }
  if (field) {
    if (wrong) field.setAttribute("aria-invalid", "true");
    field.setAttribute("aria-describedby", id);
  }
}

document.addEventListener("submit", (e) => {
  const form = e.target;
  if (form.closest(".clash")) settled();
  if (!form.matches("form[data-live]")) return;
  e.preventDefault();
  send(form, e.submitter, false);
});
document.addEventListener("focusin", (e) => {
  if (e.target.matches("[data-typed]") && !e.target.hasAttribute("aria-invalid")) delete e.target.dataset.begun;
});
document.addEventListener("change", (e) => {
  const form = e.target.form;
  if (!form?.matches("form[data-live]")) return;
  send(form, null, false);
});
document.addEventListener("input", (e) => {
  const form = e.target.form;
  if (!form?.matches("form[data-live]") || !e.target.matches("[data-typed]")) return;
  clearTimeout(resting);
  // Words may be taken back whole; an emptied figure is on the way to the next one.
  if (e.target.value.trim() === "" && !e.target.matches("[data-empties]")) return;
  send(form, null, true);
});
// Whoever goes on before the last answer is there goes on when it is.
document.addEventListener("click", (e) => {
  const a = e.target.closest?.("a[href]");
  if (a?.closest(".clash")) settled();
  if (!a || !under || e.defaultPrevented || e.button || e.ctrlKey || e.metaKey || e.shiftKey || a.target || a.hasAttribute("download")) return;
  e.preventDefault();
  // What was left behind may have met another window's change: the choice comes first.
  sending.then(() => { if (!main.querySelector(".clash")) location.assign(a.href); });
});
document.addEventListener("submit", (e) => {
  if (!under || e.defaultPrevented || e.target.matches("form[data-live]")) return;
  e.preventDefault();
  sending.then(() => { if (e.target.isConnected) e.target.requestSubmit(e.submitter?.isConnected ? e.submitter : null); });
});
window.addEventListener("beforeunload", (e) => { if (under) e.preventDefault(); });
// Undo and redo outside of fields.
document.addEventListener("keydown", (e) => {
  const key = e.key.toLowerCase();
  if (!(e.ctrlKey || e.metaKey) || key !== "z" && key !== "y") return;
  if (e.target.matches("textarea, input:not([data-typed])")) return;
  // What was refused was done last, and nothing of it was kept: it alone is undone.
  if (key === "z" && !e.shiftKey && e.target.matches("[data-typed]" + REFUSED)) {
    e.preventDefault();
    forget(e.target);
    return;
  }
  const button = document.getElementById(e.shiftKey || key === "y" ? "redo" : "undo");
  if (!button) return;
  e.preventDefault();
  button.form.requestSubmit(button);
});
left();
// A page that comes back from the cache shows what is true now, if the workbench is awake to say it.
window.addEventListener("pageshow", (e) => {
  if (e.persisted) fetch(location.href, { method: "HEAD" }).then(() => location.reload(), () => {});
});
