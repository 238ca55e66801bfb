// Show only the fields of the chosen target.
const form = document.querySelector("[data-target-form]");
const show = () => {
  const chosen = form.querySelector("input[name=target]:checked")?.value;
  for (const group of form.querySelectorAll("[data-for]")) {
    group.hidden = group.dataset.for !== chosen;
  }
};
form.addEventListener("input", show);
show();
