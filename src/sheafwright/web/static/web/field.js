// The phone in the field: forms that outlast a lost signal, and what is still unsent.
"use strict";

const page = document.body.dataset;
const words = document.getElementById("phone-words").dataset;
const PAGES = "pages";
const AN_HOUR = 3600e3;

const withText = (sentence, text) => sentence.replace("#", text).trim();

function made(tag, text, ...classes) {
  const element = document.createElement(tag);
  element.textContent = text;
  element.classList.add(...classes);
  return element;
}

function newId() {
  // randomUUID is there on secure pages only.
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

// A fresh form: its own id, and the time it is now even on a page kept yesterday.

const local = (moment, length) =>
  new Date(moment - new Date(moment).getTimezoneOffset() * 60e3)
    .toISOString()
    .slice(0, length);

function later(field, since) {
  const length = field.type === "date" ? 10 : 16;
  const whole = (moment) => Date.parse(local(moment, length));
  const shown = Date.parse(field.defaultValue + (length === 16 ? "Z" : ""));
  const moved = shown + whole(Date.now()) - whole(Date.parse(since));
  field.value = new Date(moved).toISOString().slice(0, length);
}

function refresh(form) {
  form.elements.id.value = newId();
  for (const field of form.elements)
    if (/^date/.test(field.type) && field.defaultValue && form.dataset.made)
      later(field, form.dataset.made);
}

function tell(form, text, isWrong) {
  let note = form.querySelector("[data-note]");
  if (!note) {
    note = made("p", "");
    note.dataset.note = "";
    note.setAttribute("role", "status");
    form.append(note);
  }
  note.className = isWrong ? "wrong" : "told";
  note.textContent = text;
}

// Keeping and sending

function readable(form) {
  return [...form.elements]
    .filter((field) => field.labels?.length && field.value && field.type !== "file")
    .filter((field) => !/^(checkbox|radio)$/.test(field.type) || field.checked)
    .map((field) =>
      field.tagName === "SELECT" ? field.selectedOptions[0].text : field.value,
    )
    .join(" · ");
}

function entryOf(form, button) {
  const fields = [...new FormData(form, button)];
  return {
    id: form.elements.id.value,
    url: form.action,
    what: form.dataset.keep || form.dataset.keepLate,
    reads: readable(form) || button?.textContent,
    fields: fields.filter(([name]) => name !== "csrfmiddlewaretoken"),
    person: page.person,
    personName: page.personName,
    keptAt: Date.now(),
  };
}

async function keepAndSend(form, button) {
  const entry = entryOf(form, button);
  await Kept.put(entry);
  await showUnsent();
  tell(form, words.sending);
  const results = await Kept.send(page.csrf, { fresh: entry.id });
  // Another page or the worker may have been first to try it.
  const left = (await Kept.all()).find(({ id }) => id === entry.id);
  const result = results.get(entry.id) || left || { outcome: "sent" };
  if (result.outcome === "refused") {
    // All that was typed is still in the form, to put right.
    await Kept.remove(entry.id);
    form.elements.id.value = newId();
    tell(form, result.says || words.refused, true);
  } else if (result.outcome === "ended") {
    // It stays kept, and in the form: here it can be copied to where it now belongs.
    tell(form, result.says, true);
  } else if (result.next && !("stay" in form.dataset)) {
    location.assign(result.next);
  } else {
    form.reset();
    refresh(form);
    const text = result.outcome === "sent" ? words.sent : words.waits;
    tell(form, `${text} ${result.says || ""}`);
    if (result.outcome !== "sent") askToSendLater();
  }
  await showUnsent();
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if ("signOut" in form.dataset) await self.caches?.delete(PAGES);
  if (!("keep" in form.dataset) || !page.person) return;
  event.preventDefault();
  if ("busy" in form.dataset) return;
  form.dataset.busy = "";
  try {
    await keepAndSend(form, event.submitter);
  } catch {
    // A browser that keeps nothing still sends a plain form.
    delete form.dataset.keep;
    form.requestSubmit(event.submitter);
  } finally {
    delete form.dataset.busy;
  }
});

async function askToSendLater() {
  const worker = await navigator.serviceWorker?.getRegistration();
  await worker?.sync?.register("send").catch(() => undefined);
}

async function sendNow(again = false) {
  await Kept.send(page.csrf, { again });
  await showUnsent();
}

// What is still unsent

function why({ outcome, says, personName }) {
  if (outcome === "away") return words.away;
  if (outcome === "refused" || outcome === "ended") return says || words.refused;
  if (outcome === "signedOut") return words.signedOut;
  if (outcome === "others") return withText(words.others, personName);
  return words.waiting;
}

function button(text, deed) {
  const element = made("button", text, "tick");
  element.type = "button";
  element.addEventListener("click", deed);
  return element;
}

const onDay = (moment) =>
  new Date(moment).toLocaleString(document.documentElement.lang, {
    dateStyle: "long",
    timeStyle: "short",
  });

function typed(entry) {
  const fold = made("details", "");
  const list = made("ul", "");
  const files = entry.fields.filter(([, value]) => value.name).map(([, file]) => file.name);
  const said = [onDay(entry.keptAt), ...entry.reads.split(" · ")];
  list.append(...[...said, ...files].map((each) => made("li", each)));
  fold.append(made("summary", words.typed), list);
  return fold;
}

function deedsOf(entry) {
  if (entry.outcome === "ended") return [button(words.putAway, () => putAway(entry))];
  const off = button(words.takeOff, () => takeOff(entry));
  if (Kept.isAway(entry)) return [off];
  return [button(words.tryAgain, () => sendNow(true)), off];
}

function line(entry) {
  const item = made("li", "");
  const isOver = entry.outcome === "ended" || Kept.isAway(entry);
  const about = made("p", "");
  about.append(made("b", entry.what), isOver ? "" : ` ${entry.reads}`);
  const deeds = made("p", "", "deeds");
  deeds.append(...deedsOf(entry));
  item.append(about, made("p", why(entry), "src"), ...(isOver ? [typed(entry)] : []), deeds);
  return item;
}

async function takeOff(entry) {
  if (!confirm(words.sure)) return;
  await Kept.remove(entry.id);
  await showUnsent();
}

async function putAway(entry) {
  await Kept.mark(entry.id, { outcome: "away" });
  await showUnsent();
}

async function showUnsent() {
  const kept = await Kept.all();
  const entries = kept.filter((entry) => !Kept.isAway(entry));
  const n = entries.length;
  for (const mark of document.querySelectorAll("[data-unsent]")) {
    mark.hidden = n === 0;
    mark.textContent =
      n === 1 ? mark.dataset.one : withText(mark.dataset.many, String(n));
  }
  for (const list of document.querySelectorAll("[data-kept]"))
    list.replaceChildren(...entries.map(line));
  for (const fold of document.querySelectorAll("[data-fold-of-away]")) {
    const away = kept.filter(Kept.isAway);
    fold.hidden = away.length === 0;
    fold.querySelector("ul").replaceChildren(...away.map(line));
  }
  for (const none of document.querySelectorAll("[data-none-unsent]"))
    none.hidden = n > 0;
  for (const title of document.querySelectorAll("[data-unsent-all]"))
    title.textContent = n ? title.dataset.unsentSome : title.dataset.unsentAll;
}

// Pages that open with no signal

async function keepHarvestDay() {
  if (!page.harvestDay || !self.caches) return;
  const kept = await caches.open(PAGES);
  const old = await kept.match(page.harvestDay);
  if (old && Date.now() - Date.parse(old.headers.get("Date")) < AN_HOUR) return;
  const fresh = await fetch(page.harvestDay);
  if (fresh.ok && !fresh.redirected) await kept.put(page.harvestDay, fresh);
}

async function showKeptPages() {
  const place = document.querySelector("[data-kept-pages]");
  if (!place || !self.caches) return;
  const kept = await (await caches.open(PAGES)).keys();
  for (const request of kept) {
    const link = made("a", place.dataset.label, "go");
    link.href = request.url;
    place.append(link);
  }
}

function begin() {
  document.querySelectorAll("form[data-keep]").forEach(refresh);
  showUnsent().then(() => sendNow()).catch(() => undefined);
  showKeptPages();
}

begin();
addEventListener("pageshow", (event) => event.persisted && begin());
addEventListener("online", () => sendNow());
document.addEventListener("visibilitychange", () => document.hidden || sendNow());
// A weak signal comes and goes without a word from the browser.
setInterval(() => document.hidden || sendNow(), 60e3);
navigator.serviceWorker?.addEventListener("message", () => showUnsent());
navigator.serviceWorker
  ?.register(page.worker)
  .then(keepHarvestDay)
  .catch(() => undefined);
