// A tap shows at once. With no connection it is kept in this browser and sent when there is one; its key makes a
// repeat count once. Everything also works without this file: the forms post, the server answers with a page.
"use strict";
(() => {
  const STORE = "refettle.unsent";
  const SETTLE_MS = 700; // A second tap this soon was meant for the card before. Judgement, no source.
  const AGAIN_MS = 4000;
  let busy = false;
  let settled = 0;

  const main = () => document.getElementById("main");
  const note = (text) => {
    const p = document.getElementById("unsent");
    p.textContent = text;
    p.hidden = !text;
  };
  const read = () => {
    try {
      return JSON.parse(localStorage.getItem(STORE) || "[]");
    } catch {
      return [];
    }
  };
  const write = (list) => {
    try {
      if (list.length) localStorage.setItem(STORE, JSON.stringify(list));
      else localStorage.removeItem(STORE);
      return true;
    } catch {
      return false;
    }
  };

  const post = (to, body) =>
    fetch(to, {
      method: "POST",
      headers: { "Content-Type": "application/x-www-form-urlencoded" },
      body,
    });

  const show = (html, move = true) => {
    const page = new DOMParser().parseFromString(html, "text/html");
    const fresh = page.getElementById("main");
    if (!fresh) return;
    main().replaceWith(document.adoptNode(fresh));
    document.title = page.title;
    settled = Date.now() + SETTLE_MS;
    if (!move) return;
    window.scrollTo(0, 0);
    main().focus({ preventScroll: true });
  };

  const keep = (to, body, said) => {
    const list = read();
    const tap = new URLSearchParams(body).get("tap");
    if (!list.some((one) => new URLSearchParams(one.body).get("tap") === tap)) list.push({ to, body, said });
    if (!write(list)) return note("No connection, and this browser keeps nothing: answer again when it is back.");
    note("No connection. Kept in this browser, not sent yet: " + list.map((one) => one.said).join("; "));
  };

  // In order, one at a time; what the server refuses is shown, not sent again.
  const flush = async () => {
    if (busy) return;
    const list = read();
    if (!list.length) return;
    busy = true;
    try {
      const response = await post(list[0].to, list[0].body);
      // Not now (a fault of ours, or this phone's pairing is gone): it stays kept.
      if (response.status >= 500 || response.status === 401) return;
      write(read().slice(1));
      show(await response.text());
      note(read().length ? "Still sending what was kept." : "");
    } catch {
      note("No connection. Kept in this browser, not sent yet: " + list.map((one) => one.said).join("; "));
    } finally {
      busy = false;
    }
  };

  document.addEventListener("submit", async (event) => {
    const form = event.target;
    const to = form.getAttribute("action");
    if (!to || !to.endsWith("/answer")) return;
    event.preventDefault();
    if (busy || Date.now() < settled) return;
    busy = true;
    const data = new FormData(form);
    // What was written on the card goes with any answer, not only with Done.
    document.querySelectorAll("[form=done]").forEach((one) => one.value && !data.has(one.name) && data.append(one.name, one.value));
    const button = event.submitter;
    if (button && button.name) data.append(button.name, button.value);
    const body = new URLSearchParams(data).toString();
    const buttons = main().querySelectorAll(".answers button");
    buttons.forEach((one) => (one.disabled = true));
    if (button) button.classList.add("tapped");
    note("");
    try {
      const response = await post(to, body);
      show(await response.text());
      // The answer may lead to another page: to what can be done about it.
      if (response.redirected && response.url !== location.href) history.pushState(null, "", response.url);
    } catch {
      const title = main().querySelector("h1");
      keep(to, body, (button ? button.textContent.replace("✓", "").trim() : "answer") + " to “" + (title ? title.textContent.trim() : "") + "”");
      if (button) button.classList.remove("tapped");
    } finally {
      busy = false;
      buttons.forEach((one) => (one.disabled = read().length > 0));
    }
  });

  // What another device records is shown here within a second, unless something is just being written here. The
  // request waits at the server until there is something; a tap on an old page is refused in any case.
  const later = (work, ms) => setTimeout(work, ms);
  const mark = () => document.getElementById("seen")?.dataset;
  const known = () => mark()?.entry;
  const writing = () => [...main().querySelectorAll("textarea, input:not([type=hidden])")].some((one) => one.value !== one.defaultValue);
  const refresh = async () => {
    if (busy || read().length) return;
    if (writing()) return note("Something was recorded on another device. What you are writing stays; the page is then out of date.");
    const page = await fetch(location.href);
    if (page.ok && !writing() && !busy) {
      show(await page.text(), false);
      note("Recorded on another device. This is how it stands now.");
    }
  };
  const watch = async () => {
    const seen = known();
    if (!seen || document.hidden) return later(watch, 500);
    try {
      const response = await fetch("/since?" + new URLSearchParams({ bike: mark().bike, seen }));
      if (response.status === 200) {
        const { last } = await response.json();
        if (last !== known()) await refresh();
        return later(watch, last === known() ? 50 : AGAIN_MS);
      }
      return later(watch, response.status === 204 ? 250 : AGAIN_MS);
    } catch {
      return later(watch, AGAIN_MS);
    }
  };

  window.addEventListener("popstate", () => location.reload());
  window.addEventListener("online", flush);
  watch();
  setInterval(flush, AGAIN_MS);
  flush();
})();
