// A field that may not be left empty says so beside itself, in words that stay until it is filled and
// are spoken: the browser's own pass in a few seconds. Without this file the browser says it.
const noteOf = (field) => `${field.id || field.name}-wrong`;

function clear(field) {
  document.getElementById(noteOf(field))?.remove();
  field.removeAttribute("aria-invalid");
  field.removeAttribute("aria-describedby");
}

document.addEventListener("invalid", (e) => {
  const field = e.target;
  const words = field.dataset.needed;
  if (!words || !field.validity.valueMissing) return;
  e.preventDefault();
  // Of a group of buttons it is said once.
  if (field.type === "radio" && document.getElementById(noteOf(field))) return;
  clear(field);
  const note = document.createElement("p");
  note.id = noteOf(field);
  note.className = "wrong";
  note.setAttribute("role", "alert");
  note.textContent = words;
  const row = field.closest(".row");
  if (row) row.append(note);
  else (field.closest("fieldset") ?? field).after(note);
  field.setAttribute("aria-invalid", "true");
  field.setAttribute("aria-describedby", note.id);
  const first = field.form.querySelector("input:invalid, select:invalid, textarea:invalid");
  if (first === field) field.focus();
}, true);

for (const kind of ["input", "change"]) {
  document.addEventListener(kind, (e) => {
    for (const field of e.target.form?.querySelectorAll("[data-needed][aria-invalid]") ?? []) {
      if (field.validity.valid) clear(field);
    }
  });
}
