// Refuses a file that is too large the moment it is chosen, before any of it is sent.
document.addEventListener("change", (event) => {
  const field = event.target;
  if (!field.matches("input[type=file][data-limit]")) return;
  const limit = Number(field.dataset.limit);
  const file = field.files[0];
  const said = document.getElementById(field.dataset.tell);
  const isTooLarge = file !== undefined && file.size > limit;
  const size = file === undefined ? 0 : Math.round(file.size / 1e6);
  said.textContent = isTooLarge
    ? `${file.name} has ${size.toLocaleString("en-US")} MB; at most ${limit / 1e6} MB can be read. ` +
      "Export fewer hours, or one sample each few seconds."
    : "";
  field.form.querySelector("button").disabled = isTooLarge;
});
