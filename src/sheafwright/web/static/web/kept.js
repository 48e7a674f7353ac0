// Entries kept on this phone until the server says that it has them.
// Pages and the service worker share this file; the entry's own id makes it safe to
// send one twice.
"use strict";

const Kept = (() => {
  const PATIENCE_MS = 20000;
  const SLOWEST_BYTES_PER_MS = 10;

  function opened() {
    return new Promise((resolve, reject) => {
      const asked = indexedDB.open("sheafwright", 1);
      asked.onupgradeneeded = () =>
        asked.result.createObjectStore("entries", { keyPath: "id" });
      asked.onsuccess = () => resolve(asked.result);
      asked.onerror = () => reject(asked.error);
    });
  }

  async function inStore(mode, deed) {
    const base = await opened();
    try {
      return await new Promise((resolve, reject) => {
        const turn = base.transaction("entries", mode, { durability: "strict" });
        const asked = deed(turn.objectStore("entries"));
        turn.oncomplete = () => resolve(asked.result);
        turn.onerror = turn.onabort = () => reject(turn.error);
      });
    } finally {
      base.close();
    }
  }

  const put = (entry) => inStore("readwrite", (store) => store.put(entry));
  const remove = (id) => inStore("readwrite", (store) => store.delete(id));

  // Only where it still is: what was taken off meanwhile does not come back.
  const mark = (id, { outcome, says = "" }) =>
    inStore("readwrite", (store) => {
      const asked = store.get(id);
      asked.onsuccess = () =>
        asked.result && store.put({ ...asked.result, outcome, says });
      return asked;
    });

  // Not tried by itself again; what was put away is not even when someone asks.
  const isAway = ({ outcome }) => outcome === "away";
  const isStopped = (entry) =>
    ["refused", "ended"].includes(entry.outcome) || isAway(entry);

  async function all() {
    const entries = await inStore("readonly", (store) => store.getAll());
    return entries.sort((a, b) => a.keptAt - b.keptAt);
  }

  async function whoIsHere(csrf) {
    const answer = await fetch(csrf, {
      cache: "no-store",
      headers: { Accept: "application/json" },
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    return answer.json();
  }

  async function post(entry, token, isLate) {
    const body = new FormData();
    for (const [name, value] of entry.fields) body.append(name, value);
    // A photo takes its time where the signal is weak.
    const bytes = entry.fields.reduce((sum, [, value]) => sum + (value.size || 0), 0);
    const answer = await fetch(entry.url, {
      method: "POST",
      body,
      headers: {
        "X-CSRFToken": token,
        Accept: "application/json",
        ...(isLate && { "X-Kept": "late" }),
      },
      signal: AbortSignal.timeout(PATIENCE_MS + bytes / SLOWEST_BYTES_PER_MS),
    });
    const said = await answer.json().catch(() => ({}));
    // Nothing but the entry's own id, said back, is proof that it is written: the page
    // of some other network's gate is an answer too.
    if (answer.ok && said.written === entry.id) return { outcome: "sent", ...said };
    if ([400, 404, 409, 422].includes(answer.status))
      return { outcome: said.ended ? "ended" : "refused", says: said.says || "" };
    return { outcome: "waits" };
  }

  async function tried(entry, here, isLate) {
    if (!here) return { outcome: "waits" };
    if (!here.person) return { outcome: "signedOut" };
    if (here.person !== entry.person) return { outcome: "others" };
    return post(entry, here.token, isLate).catch(() => ({ outcome: "waits" }));
  }

  async function sendAll(csrf, { again, fresh }) {
    const kept = (await all()).filter((entry) => !isAway(entry));
    const entries = again ? kept : kept.filter((entry) => !isStopped(entry));
    if (!entries.length) return new Map();
    const here = await whoIsHere(csrf).catch(() => null);
    const results = new Map();
    for (const entry of entries) {
      const result = await tried(entry, here, entry.id !== fresh);
      if (result.outcome === "sent") await remove(entry.id);
      else await mark(entry.id, result);
      results.set(entry.id, result);
    }
    return results;
  }

  // One sender at a time, whichever page or worker it is in. What was refused is tried
  // `again` only when someone asks; the `fresh` entry is still in its form, to put right.
  const send = (csrf, how = {}) =>
    navigator.locks
      ? navigator.locks.request("sheafwright-send", () => sendAll(csrf, how))
      : sendAll(csrf, how);

  return { put, remove, mark, all, send, isAway, isStopped };
})();
