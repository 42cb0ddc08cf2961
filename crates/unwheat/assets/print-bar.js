// The Print button over a card. Without this file the browser's own menu prints.
const button = document.getElementById("print");
button.hidden = false;
button.addEventListener("click", () => print());
