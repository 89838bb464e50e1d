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

  const post = (body) =>
    fetch("/answer", {
      method: "POST",
      headers: { "Content-Type": "application/x-www-form-urlencoded" },
      body,
    });

  const show = (html) => {
    const page = new DOMParser().parseFromString(html, "text/html");
    const fresh = page.getElementById("main");
    if (!fresh) return;
    main().replaceWith(document.adoptNode(fresh));
    document.title = page.title;
    settled = Date.now() + SETTLE_MS;
    window.scrollTo(0, 0);
    main().focus({ preventScroll: true });
  };

  const keep = (body, said) => {
    const list = read();
    const tap = new URLSearchParams(body).get("tap");
    if (!list.some((one) => new URLSearchParams(one.body).get("tap") === tap)) list.push({ body, said });
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
      const response = await post(list[0].body);
      if (response.status >= 500) return;
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
    if (form.getAttribute("action") !== "/answer") return;
    event.preventDefault();
    if (busy || Date.now() < settled) return;
    busy = true;
    const data = new FormData(form);
    const button = event.submitter;
    if (button && button.name) data.append(button.name, button.value);
    const body = new URLSearchParams(data).toString();
    const buttons = main().querySelectorAll(".answers button");
    buttons.forEach((one) => (one.disabled = true));
    if (button) button.classList.add("tapped");
    note("");
    try {
      const response = await post(body);
      show(await response.text());
    } catch {
      const title = main().querySelector("h1");
      keep(body, (button ? button.textContent.replace("✓", "").trim() : "answer") + " to “" + (title ? title.textContent.trim() : "") + "”");
      if (button) button.classList.remove("tapped");
    } finally {
      busy = false;
      buttons.forEach((one) => (one.disabled = read().length > 0));
    }
  });

  window.addEventListener("online", flush);
  setInterval(flush, AGAIN_MS);
  flush();
})();
