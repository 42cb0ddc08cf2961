// Sends changed figures as they are changed and patches the page with what follows from them.
// Every form works without this file.
import { patch } from "./patch.js";

const main = document.getElementById("main");
const said = document.getElementById("said");

/** Speaks to those who listen to the page. */
export function say(words) {
  if (!said || !words) return;
  said.textContent = "";
  requestAnimationFrame(() => { said.textContent = words; });
}

let sending = Promise.resolve();
const waiting = new Map();

/** Sends a form; changes of one page go one after the other, and of one field only the last. */
function send(form, submitter, typing) {
  const id = form.dataset.k ?? form;
  const body = () => {
    const data = new FormData(form, submitter ?? null);
    if (typing) data.set("join", "1");
    const rev = document.querySelector("[data-rev]");
    if (rev && data.has("rev")) data.set("rev", rev.dataset.rev);
    return new URLSearchParams(data);
  };
  if (typing) {
    if (waiting.has(id)) { waiting.set(id, body); return sending; }
    waiting.set(id, body);
  }
  sending = sending.then(async () => {
    const make = typing ? waiting.get(id) : body;
    waiting.delete(id);
    await post(form, make(), typing);
  });
  return sending;
}

async function post(form, data, typing) {
  const began = performance.now();
  let answer;
  try {
    answer = await fetch(form.action, { method: "POST", body: data, headers: { "x-live": "1" } });
  } catch {
    trouble(form, "The workbench does not answer. What you typed stays here: start unwheat again, then press Enter.");
    return;
  }
  if (!(answer.headers.get("content-type") ?? "").startsWith("application/json")) {
    if (answer.redirected) { location.assign(answer.url); return; }
    const text = await answer.text();
    const doc = new DOMParser().parseFromString(text, "text/html");
    trouble(form, doc.querySelector("main p")?.textContent ?? "That could not be used.");
    return;
  }
  const got = await answer.json();
  if (got.go) { location.assign(got.go); return; }
  if (got.trouble) { if (!typing) trouble(form, got.trouble); return; }
  trouble(form, "");
  if (got.main) {
    const fresh = document.createElement("main");
    fresh.innerHTML = got.main;
    for (const a of main.attributes) fresh.setAttribute(a.name, a.value);
    const had = document.activeElement;
    patch(main, fresh);
    if (had && had !== document.body && !had.isConnected) refocus(form);
    document.dispatchEvent(new CustomEvent("patched"));
  }
  main.dataset.took = (performance.now() - began).toFixed(1);
  say(got.said);
}

/** After an answered question its button is gone: go to the next one, else to the list's head. */
function refocus(form) {
  const next = document.querySelector(".doubts button") ?? document.querySelector("[data-home]") ?? main;
  next.focus({ preventScroll: false });
}

function trouble(form, words) {
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
    form.after(note);
  }
  note.textContent = words;
  if (field) {
    field.setAttribute("aria-invalid", "true");
    field.setAttribute("aria-describedby", id);
  }
}

document.addEventListener("submit", (e) => {
  const form = e.target;
  if (!form.matches("form[data-live]")) return;
  e.preventDefault();
  send(form, e.submitter, false);
});
document.addEventListener("change", (e) => {
  const form = e.target.form;
  if (!form?.matches("form[data-live]")) return;
  if (e.target.matches("[data-typed]")) { e.target.dataset.typing = ""; }
  send(form, null, false);
});
document.addEventListener("input", (e) => {
  const form = e.target.form;
  if (!form?.matches("form[data-live]") || !e.target.matches("[data-typed]")) return;
  if (e.target.value.trim() === "") return;
  send(form, null, true);
});
// Undo and redo outside of fields.
document.addEventListener("keydown", (e) => {
  if (!(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== "z") return;
  if (e.target.matches("textarea, input:not([data-typed])")) return;
  const button = document.getElementById(e.shiftKey ? "redo" : "undo");
  if (!button) return;
  e.preventDefault();
  button.form.requestSubmit(button);
});
// A page that comes back from the cache or from sleep shows what is true now.
window.addEventListener("pageshow", (e) => { if (e.persisted) location.reload(); });
