// Finds what a person would find: the visible thing of a kind that bears a name.
const kinds = {
  press: "button, a[href], summary, input[type=submit], [role=button]",
  button: "button, input[type=submit], [role=button]",
  link: "a[href]",
  field: "input:not([type=hidden]), select, textarea",
  heading: "h1, h2, h3",
  any: "*",
};
const [kind, name, within] = arguments;
const flat = (s) => (s ?? "").replace(/\s+/g, " ").trim();
const called = (e) => {
  const by = e.getAttribute("aria-labelledby");
  if (by) return flat(by.split(/\s+/).map((id) => document.getElementById(id)?.textContent).join(" "));
  if (e.hasAttribute("aria-label")) return flat(e.getAttribute("aria-label"));
  if (e.labels?.length) return flat([...e.labels].map((l) => l.textContent).join(" "));
  return flat(e.textContent) || flat(e.title) || flat(e.value);
};
const seen = (e) => e.checkVisibility({ visibilityProperty: true }) && e.getClientRects().length > 0;
let root = document;
if (within) {
  const heads = [...document.querySelectorAll("h1, h2, h3")].filter((h) => flat(h.textContent).startsWith(within));
  root = heads[0]?.closest("section") ?? null;
  if (!root) return null;
}
const all = [...root.querySelectorAll(kinds[kind] ?? kind)].filter((e) => seen(e) || (e.type === "file"));
return all.find((e) => called(e) === name)
  ?? all.find((e) => called(e).startsWith(name))
  ?? all.find((e) => called(e).includes(name))
  ?? null;
