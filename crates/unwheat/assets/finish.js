// What is written of a bake stays on this device until it is finished: through a reload, and while
// the laptop does not answer. The form works without this file.
import { askFirst } from "./ask-first.js";

const form = document.querySelector("[data-draft]");
const place = `unwheat finish ${form.dataset.draft}`;
const fields = [...form.elements].filter((e) => e.matches("input:not([type=hidden]), select, textarea"));

try {
  // One record is written at a time.
  for (const key of Object.keys(localStorage)) if (key.startsWith("unwheat finish ") && key !== place) localStorage.removeItem(key);
  const kept = JSON.parse(localStorage.getItem(place) ?? "{}");
  // What the laptop sent back was typed later.
  if (!form.hasAttribute("data-typed")) for (const f of fields) if (f.name in kept) f.value = kept[f.name];
} catch { /* nothing kept */ }

function save() {
  try { localStorage.setItem(place, JSON.stringify(Object.fromEntries(fields.map((f) => [f.name, f.value])))); } catch { /* in this page alone */ }
}
for (const event of ["input", "submit"]) form.addEventListener(event, save);
askFirst(form, form.dataset.state, "The laptop does not answer. What you wrote stays on this device: press again when it is back.");
