// Show a newly chosen look at once; the cookie was set by the answer.
document.addEventListener("DOMContentLoaded", () => {
  document.body.addEventListener("lookChanged", (event) => {
    document.documentElement.dataset.look = event.detail.look;
  });
  // Lists that are chosen from by ticking need no button.
  for (const form of document.querySelectorAll("form[data-autosubmit]")) {
    form.addEventListener("change", () => form.requestSubmit());
  }
});
