// Saves pictures, and opens what is folded before printing. Without it the page is complete all the same.
for (const button of document.querySelectorAll("button.save")) {
  button.hidden = false;
  button.addEventListener("click", () => {
    const svg = button.closest("figure").querySelector("svg");
    const text = new XMLSerializer().serializeToString(svg);
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "image/svg+xml" }));
    link.download = button.dataset.file;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  });
}
let folded = [];
addEventListener("beforeprint", () => {
  folded = [...document.querySelectorAll("details:not([open])")];
  for (const details of folded) details.open = true;
});
addEventListener("afterprint", () => {
  for (const details of folded) details.open = false;
});
