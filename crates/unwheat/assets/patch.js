// Makes one part of the page like a newer one, touching only what differs, so that focus, scroll
// and what is being typed stay.

// Forms on the way to the workbench: what was typed in them is newer than any answer.
const held = new Map();
export const hold = (form) => held.set(form, (held.get(form) ?? 0) + 1);
export const release = (form) => { const n = held.get(form) - 1; if (n > 0) held.set(form, n); else held.delete(form); };
const own = (field) => field === document.activeElement || held.has(field.form);
// What could not be used is the reader's to mend: no answer to another field empties it or takes its note away. What
// the page itself marks goes as the page has it.
const refused = (field) => field.getAttribute("aria-invalid") === "true"
  && field.getAttribute("aria-describedby")?.startsWith("trouble-") === true;
const isNoteOfRefused = (n) => n.nodeType === Node.ELEMENT_NODE && n.id.startsWith("trouble-")
  && document.querySelector(`[aria-invalid="true"][aria-describedby="${CSS.escape(n.id)}"]`) !== null;

/** Makes `old` like `now`. Children with a data-k are matched by it, others by place. */
export function patch(old, now) {
  if (old.nodeType !== now.nodeType || old.nodeName !== now.nodeName) {
    old.replaceWith(now.cloneNode(true));
    return;
  }
  if (old.nodeType === Node.TEXT_NODE) {
    if (old.data !== now.data) old.data = now.data;
    return;
  }
  if (old.nodeType !== Node.ELEMENT_NODE) return;
  if (old.isEqualNode(now) && !old.querySelector("input, select, textarea") && !isField(old)) return;
  attributes(old, now);
  if (old.nodeName === "TEXTAREA") {
    if (!own(old) && !refused(old) && old.value !== now.value) old.value = now.value;
    return;
  }
  children(old, now);
  if (old.nodeName === "INPUT" || old.nodeName === "SELECT") field(old, now);
}

function isField(e) {
  return e.nodeName === "INPUT" || e.nodeName === "SELECT" || e.nodeName === "TEXTAREA";
}

function attributes(old, now) {
  for (const a of [...old.attributes]) {
    if (!now.hasAttribute(a.name) && !isTheReaders(a, old)) old.removeAttribute(a.name);
  }
  for (const a of now.attributes) {
    if (!isTheReaders(a, old) && old.getAttribute(a.name) !== a.value) old.setAttribute(a.name, a.value);
  }
}

/** What the reader opened stays open, what was closed stays closed; the mark of what was refused stays. */
const isTheReaders = (a, e) => a.name === "open" && e.nodeName === "DETAILS"
  || (a.name === "aria-invalid" || a.name === "aria-describedby") && refused(e);

function field(old, now) {
  if (held.has(old.form) || refused(old)) return;
  if (old.type === "checkbox" || old.type === "radio") old.checked = now.hasAttribute("checked");
  else if (old.nodeName === "SELECT") {
    const chosen = now.querySelector("option[selected]") ?? now.options[0];
    if (chosen && old.value !== chosen.value) old.value = chosen.value;
  } else if (old.type !== "hidden" && old.type !== "file") {
    // The figure being typed is the reader's until it is left.
    if (!own(old) && old.value !== now.defaultValue) old.value = now.defaultValue;
  }
}

const key = (n) => (n.nodeType === Node.ELEMENT_NODE ? n.dataset.k ?? (n.id || null) : null);

function children(old, now) {
  const keyed = new Map();
  for (const c of old.childNodes) if (key(c)) keyed.set(key(c), c);
  let at = old.firstChild;
  for (const want of [...now.childNodes]) {
    const k = key(want);
    let have = null;
    if (k) {
      have = keyed.get(k) ?? null;
      // What is gone goes first: an element that is moved loses the focus.
      if (have) while (at !== have && key(at) && !stays(at, now)) at = drop(at);
    } else {
      while (at && key(at) && keyed.get(key(at)) === at && !stays(at, now)) at = drop(at);
      if (at && !key(at) && at.nodeName === want.nodeName) have = at;
    }
    if (!have) {
      old.insertBefore(want.cloneNode(true), at);
      continue;
    }
    if (have !== at) old.insertBefore(have, at);
    else at = at.nextSibling;
    patch(have, want);
  }
  while (at) at = drop(at);
}

const stays = (n, now) => [...now.childNodes].some((c) => key(c) === key(n));

function drop(n) {
  const next = n.nextSibling;
  if (isNoteOfRefused(n)) return next;
  n.remove();
  return next;
}
