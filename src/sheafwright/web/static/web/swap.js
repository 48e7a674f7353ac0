// Forms that answer in place: htmx posts them, and this is what it leaves to us.
"use strict";

// Whoever listens to the page hears the answer, and whoever sees it has it in view; of a
// refusal, the field that is wrong.
document.addEventListener("htmx:afterSwap", () => {
  const answer = document.getElementById("answer");
  const told = answer.querySelector("[aria-invalid=true]") || answer;
  told.focus({ preventScroll: true });
  (told.closest(".field") || told).scrollIntoView({ block: "start" });
});

// Without signal, or with a broken server, an entry is kept on this phone; a question
// waits in its form. (`tell`, `words` and `keepAndSend` are those of field.js.)
for (const failed of ["htmx:sendError", "htmx:responseError", "htmx:timeout"])
  document.addEventListener(failed, ({ target: form, detail }) => {
    const { submitter } = detail.requestConfig.triggeringEvent;
    if (form.dataset.keepLate) keepAndSend(form, submitter);
    else tell(form, words.noAnswer, true);
  });
