// Forms that answer in place: htmx posts them, and this is what it leaves to us.
"use strict";

// Whoever listens to the page hears the answer, and whoever sees it has it in view; of a
// refusal, the field that is wrong.
document.addEventListener("htmx:afterSwap", ({ detail }) => {
  // Whoever slides a number goes on sliding it: parts alone change around the form.
  if (detail.requestConfig.elt.matches(".slides")) return;
  const answer = document.getElementById("answer");
  const told = answer.querySelector("[aria-invalid=true]") || answer;
  told.focus({ preventScroll: true });
  (told.closest(".field") || told).scrollIntoView({ block: "start" });
});

// A number that is slid stands beside its slide.
document.addEventListener("input", ({ target }) => {
  if (target.type === "range") target.nextElementSibling.value = target.value;
});

// Without signal, or with a broken server, an entry is kept on this phone; a question
// waits in its form. (`tell`, `words` and `keepAndSend` are those of field.js.)
for (const failed of ["htmx:sendError", "htmx:responseError", "htmx:timeout"])
  document.addEventListener(failed, ({ target: form, detail }) => {
    const { submitter } = detail.requestConfig.triggeringEvent;
    if (form.dataset.keepLate) keepAndSend(form, submitter);
    else tell(form, words.noAnswer, true);
  });
