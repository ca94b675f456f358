// A file that is dropped anywhere on the page is taken, instead of being opened in its place.

/** Calls `take(file)` with each file that is dropped; what is dragged within the page is left alone. */
export function whenDropped(take) {
  const hasFile = (event) => event.dataTransfer?.types.includes("Files");
  addEventListener("dragover", (event) => hasFile(event) && event.preventDefault());
  addEventListener("drop", (event) => {
    if (!hasFile(event)) return;
    event.preventDefault();
    const [file] = event.dataTransfer.files;
    if (file) take(file);
  });
}
