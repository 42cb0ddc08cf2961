// Keeps in this browser what is ticked off a shopping list, and copies the list as text. The page
// works without this file: ticks then go into the address by their button.
import { say } from "./live.js";

const form = document.querySelector("form[data-got]");
const key = form && `unwheat shop ${form.dataset.got}`;
const boxes = form ? [...form.querySelectorAll('input[name="got"]')] : [];

function kept() {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "null");
  } catch {
    // Nothing can be kept here, or it is not ours: the address still can.
    return null;
  }
}

function keep() {
  const got = boxes.filter((b) => b.checked).map((b) => b.value);
  try {
    localStorage.setItem(key, JSON.stringify(got));
    form.querySelector(".ticks-kept").hidden = true;
  } catch {
    form.querySelector(".ticks-kept").hidden = false;
  }
}

if (form) {
  const before = kept();
  // What the address ticks stands; what this browser kept is added.
  if (Array.isArray(before)) for (const b of boxes) b.checked ||= before.includes(b.value);
  keep();
  form.addEventListener("change", keep);
  for (const b of document.querySelectorAll("[data-copy], [data-print], [data-untick]")) b.hidden = false;
}

document.addEventListener("click", async (e) => {
  const button = e.target.closest?.("button");
  if (!button) return;
  if (button.hasAttribute("data-print")) print();
  if (button.hasAttribute("data-untick")) {
    for (const b of boxes) b.checked = false;
    keep();
    say("All ticks are off.");
  }
  if (button.dataset.copy) {
    try {
      const answer = await fetch(button.dataset.copy);
      if (!answer.ok) throw new Error(answer.statusText);
      await navigator.clipboard.writeText(await answer.text());
      say("The list is copied.");
    } catch {
      // On the home network browsers forbid it: the file is there to open.
      say("This browser does not let the list be copied. Open 'Text' instead.");
    }
  }
});
