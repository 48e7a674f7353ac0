// Forms that answer in place: htmx posts them, and this is what it leaves to us.
"use strict";

// Whoever listens to the page hears the answer, and whoever sees it has it in view.
document.addEventListener("htmx:afterSwap", () => {
  const answer = document.getElementById("answer");
  answer.focus({ preventScroll: true });
  answer.scrollIntoView({ block: "start" });
});

// Without signal, or with a broken server, the browser says so better than we can.
for (const failed of ["htmx:sendError", "htmx:responseError", "htmx:timeout"])
  document.addEventListener(failed, ({ target }) =>
    (target.form || target.closest("form")).submit(),
  );
