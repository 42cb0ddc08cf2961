// What is typed in a form that is saved with a button stays in this browser until it is saved: through
// a reload, and while the baker looks elsewhere. The form works without this file.
import { askFirst } from "./ask-first.js";
import { say } from "./live.js";

const form = document.querySelector("form[data-keep]");
const place = `unwheat form ${location.pathname}`;
const fields = form ? [...form.elements].filter((e) => e.name && e.matches("input:not([type=hidden]), select, textarea")) : [];
// A form of another version is another form.
const of = form?.elements.base?.value ?? "";

const stands = () => Object.fromEntries(fields.map((f) => [f.name, f.type === "checkbox" ? f.checked : f.value]));

function keep() {
  try { localStorage.setItem(place, JSON.stringify({ of, typed: stands() })); } catch { /* in this page alone */ }
}

function forget() {
  try { localStorage.removeItem(place); } catch { /* nothing kept */ }
}

function put(typed) {
  for (const f of fields) {
    if (!(f.name in typed)) continue;
    if (f.type === "checkbox") f.checked = typed[f.name] === true;
    else f.value = typed[f.name];
  }
  form.dispatchEvent(new Event("input"));
}

/** Says that something stands here again, or could, with a button for the other. */
function offer(words, button, act) {
  const p = document.createElement("p");
  p.className = "hint again";
  p.textContent = `${words} `;
  const b = document.createElement("button");
  b.type = "button";
  b.className = "small";
  b.textContent = button;
  b.addEventListener("click", () => { act(); p.remove(); fields[0].focus(); });
  p.append(b);
  form.prepend(p);
  say(words);
}

if (form) {
  let kept = null;
  try { kept = JSON.parse(localStorage.getItem(place)); } catch { /* nothing kept */ }
  const fresh = stands();
  const differs = kept?.of === of && Object.keys(kept.typed).some((n) => n in fresh && kept.typed[n] !== fresh[n]);
  // What the workbench sent back was typed later.
  if (form.hasAttribute("data-typed")) keep();
  else if (differs && location.search) {
    offer("What you typed here before was not saved.", "Bring it back", () => { put(kept.typed); keep(); });
  } else if (differs) {
    put(kept.typed);
    offer("What you typed here before stands here again: it is not saved yet.", "Start over", () => { put(fresh); forget(); });
  }
  form.addEventListener("input", (e) => { if (e.target !== form) keep(); });
  askFirst(form, location.href, "The workbench does not answer. What you typed stays here: start unwheat again, then press once more.", forget);
  addEventListener("pageshow", (e) => { if (e.persisted) keep(); });
}
