// Leaving with unsaved writing is asked about; saving and computing are not.
let isDirty = false;
document.addEventListener("input", (event) => { isDirty ||= Boolean(event.target.form?.matches("[data-guard]")); });
document.addEventListener("submit", (event) => { if (event.target.matches("[data-guard]")) isDirty = false; });
window.addEventListener("beforeunload", (event) => { if (isDirty) event.preventDefault(); });
