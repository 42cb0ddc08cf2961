// A saved web page or text file may be dropped anywhere on the paste form.
const form = document.querySelector("form.paste");
if (form) {
  const file = form.querySelector("input[type=file]");
  const name = form.querySelector("[data-file-name]");
  // What is being typed or pasted here is kept in this browser until it has been read.
  const text = form.querySelector("textarea");
  const KEPT = "unwheat-paste";
  if (!text.value) text.value = localStorage.getItem(KEPT) ?? "";
  text.addEventListener("input", () => localStorage.setItem(KEPT, text.value));
  // A file is read in place of the words, which then stay.
  form.addEventListener("submit", () => { if (!file.files.length) localStorage.removeItem(KEPT); });

  const show = () => { if (name) name.textContent = file.files[0] ? `${file.files[0].name} is ready to be read.` : ""; };
  file.addEventListener("change", show);
  for (const kind of ["dragenter", "dragover"]) {
    document.addEventListener(kind, (e) => {
      if (![...(e.dataTransfer?.types ?? [])].includes("Files")) return;
      e.preventDefault();
      form.classList.add("over");
    });
  }
  document.addEventListener("dragleave", (e) => { if (!e.relatedTarget) form.classList.remove("over"); });
  document.addEventListener("drop", (e) => {
    if (!e.dataTransfer?.files.length) return;
    e.preventDefault();
    form.classList.remove("over");
    const box = new DataTransfer();
    box.items.add(e.dataTransfer.files[0]);
    file.files = box.files;
    show();
    form.requestSubmit();
  });
}
