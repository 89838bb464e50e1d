// The page in a real browser: phone size, light and dark, with and without scripts, with the server killed.
//
// Wants: REFETTLE_BIN (default target/debug/refettle); playwright-core and axe-core through NODE_PATH or
// REFETTLE_NODE_MODULES; a chromium at CHROMIUM (default /usr/bin/chromium). Screenshots go to REFETTLE_SHOTS.
// Ends on one line, "N passed, N failed"; the exit status is 1 when any failed.

import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { createRequire } from "node:module";
import { delimiter, join, resolve } from "node:path";
import assert from "node:assert/strict";

const modules = [process.env.REFETTLE_NODE_MODULES, ...(process.env.NODE_PATH || "").split(delimiter)].filter(Boolean);
const find = createRequire(import.meta.url);
const load = (name) => find(find.resolve(name, modules.length ? { paths: modules.flatMap((m) => [m, join(m, "..")]) } : undefined));
const { chromium } = load("playwright-core");
const axe = load("axe-core").source;

const BIN = resolve(process.env.REFETTLE_BIN || "target/debug/refettle");
const SHOTS = process.env.REFETTLE_SHOTS || mkdtempSync(join(tmpdir(), "refettle-shots-"));
mkdirSync(SHOTS, { recursive: true });
const PHONE = { width: 390, height: 844 };
const BENCH = "/bike/demo";
const PAGES = {
  yard: "/",
  more: "/more",
  shortcuts: "/shortcuts",
  drawer: "/drawer",
  desk: "/fit-desk",
  ring: "/fit-desk/ring?asked=1&id=24.99&section=3.53&groove=25.50&bore=31.24&width=4.57",
  bench: BENCH,
  all: BENCH + "/all",
  order: BENCH + "/order",
  kit: BENCH + "/kit",
  cover: BENCH + "/cover",
  outline: BENCH + "/outline",
  road: BENCH + "/road",
  papers: BENCH + "/papers",
};
const FLAGS = [
  "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
  "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage", "--hide-scrollbars",
  "--force-color-profile=srgb",
];

const freePort = () =>
  new Promise((done, fail) => {
    const probe = createServer();
    probe.on("error", fail);
    probe.listen(0, "127.0.0.1", () => {
      const { port } = probe.address();
      probe.close(() => done(port));
    });
  });

// The real program on a folder of its own.
class Server {
  static async start(data, port) {
    const server = new Server();
    server.data = data ?? mkdtempSync(join(tmpdir(), "refettle-data-"));
    server.port = port ?? (await freePort());
    server.url = `http://127.0.0.1:${server.port}`;
    const args = ["open", "--no-browser", "--port", String(server.port), "--data", server.data];
    server.child = spawn(BIN, args, { stdio: ["ignore", "ignore", "pipe"] });
    let said = "";
    server.child.stderr.on("data", (text) => (said += text));
    server.gone = new Promise((done) => server.child.on("exit", done));
    for (let look = 0; look < 400; look++) {
      if (server.child.exitCode !== null) throw new Error(`the server did not start: ${said}`);
      const up = await fetch(server.url + "/style.css").then((r) => r.ok, () => false);
      if (up) {
        // The invented bikes, brought in as the yard's own button does; a server started again finds them there.
        const headers = { Origin: server.url, "Sec-Fetch-Site": "same-origin" };
        await fetch(server.url + "/demo", { method: "POST", headers, redirect: "manual" });
        return server;
      }
      await new Promise((later) => setTimeout(later, 50));
    }
    throw new Error("the server did not answer within 20 s");
  }
  async end(signal) {
    this.child.kill(signal);
    await this.gone;
  }
  async remove() {
    await this.end("SIGKILL");
    rmSync(this.data, { recursive: true, force: true });
  }
}

const browser = await chromium.launch({ executablePath: process.env.CHROMIUM || "/usr/bin/chromium", args: FLAGS });
let passed = 0;
let failed = 0;

async function check(name, options, body) {
  const server = await Server.start();
  const context = await browser.newContext({ viewport: PHONE, ...options });
  const page = await context.newPage();
  const complaints = [];
  page.on("pageerror", (error) => complaints.push(String(error)));
  page.on("console", (line) => line.type() === "error" && complaints.push(line.text()));
  const strangers = [];
  page.on("request", (r) => r.url().startsWith(server.url) || r.url().startsWith("data:") || strangers.push(r.url()));
  try {
    await body({ page, context, server, complaints });
    assert.deepEqual(strangers, [], "the page asked somebody else");
    passed++;
    console.log(`ok      ${name}`);
  } catch (error) {
    failed++;
    console.log(`FAILED  ${name}\n${error.stack}`);
    await page.screenshot({ path: join(SHOTS, "failed.png") }).catch(() => {});
  } finally {
    await context.close();
    await server.remove();
  }
}

const shown = (page) => page.locator("main input[name=card]").first().getAttribute("value");
const counted = async (server) => {
  const html = await (await fetch(server.url + BENCH)).text();
  return Number(/(\d+) done, \d+ to go/.exec(html)[1]);
};
const cardMoves = (page, from) =>
  page.waitForFunction((old) => document.querySelector("main input[name=card]")?.value !== old, from);

for (const scheme of ["light", "dark"]) {
  await check(`no accessibility rule is broken, ${scheme}`, { colorScheme: scheme }, async ({ page, server, complaints }) => {
    for (const [name, path] of Object.entries(PAGES)) {
      await page.goto(server.url + path);
      await page.screenshot({ path: join(SHOTS, `${name}-390-${scheme}.png`) });
      if (name === "bench") await page.locator("summary", { hasText: "Something's wrong" }).click();
      if (name === "bench") await page.screenshot({ path: join(SHOTS, `wrong-390-${scheme}.png`) });
      const found = await page.context().newCDPSession(page).then(async (session) => {
        // Past the page's own policy, which rightly lets nothing in.
        await session.send("Page.setBypassCSP", { enabled: true });
        await page.evaluate(axe);
        return page.evaluate(() => axe.run(document, { resultTypes: ["violations"] }));
      });
      const told = found.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target).join(" ")}`);
      assert.deepEqual(told, [], `${name} ${scheme}`);
      assert.ok(found.passes.length > 10, "the rules were not run");
    }
    assert.deepEqual(complaints, []);
  });
  await check(`wide, ${scheme}`, { colorScheme: scheme, viewport: { width: 1280, height: 800 } }, async ({ page, server }) => {
    for (const [name, path] of Object.entries(PAGES)) {
      await page.goto(server.url + path);
      await page.screenshot({ path: join(SHOTS, `${name}-1280-${scheme}.png`) });
      const [needs, has] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
      assert.ok(needs <= has, `${name} is ${needs} wide in ${has}`);
    }
  });
}

await check("everything to tap is 48 px at least, and the four answers are under the thumb", {}, async ({ page, server }) => {
  for (const path of Object.values(PAGES)) {
    await page.goto(server.url + path);
    const small = () => page.$$eval("a:not(.skip), button, summary, textarea, select, input:not([type=hidden], [type=checkbox])", (all) =>
      all.filter((one) => !one.closest("svg")).map((one) => [one.textContent.trim(), one.getBoundingClientRect()])
        .filter(([, box]) => box.width > 0 && (box.width < 48 || box.height < 48))
        .map(([text, box]) => `${text}: ${box.width} × ${box.height}`));
    assert.deepEqual(await small(), [], path);
    for (const details of await page.locator(".answers details").all()) {
      await details.locator("summary").click();
      if (path === BENCH) assert.ok(await details.locator("textarea, input[type=file]").first().isVisible());
      assert.deepEqual(await small(), [], `${path}, opened`);
      await details.locator("summary").click();
    }
  }
  await page.goto(server.url + BENCH);
  const answers = await page.$$eval(".answers > form button, .answers > details > summary", (all) =>
    all.map((one) => [one.textContent.replace("✓", "").trim(), one.getBoundingClientRect().bottom]));
  assert.deepEqual(answers.map(([text]) => text), ["Done", "Something's wrong", "Done another way", "Not now"]);
  for (const [text, bottom] of answers) assert.ok(bottom <= PHONE.height, `${text} ends at ${bottom}`);
  assert.ok(await page.locator(".caution").first().isVisible(), "the caution is not on the card");
});

await check("at twice the text size nothing is cut off", {}, async ({ page, server }) => {
  for (const [name, path] of Object.entries(PAGES)) {
    await page.goto(server.url + path);
    const session = await page.context().newCDPSession(page);
    await session.send("Page.setBypassCSP", { enabled: true });
    await page.reload();
    // A browser whose own text is twice as large finds the screen too low to keep the answers in sight.
    await page.addStyleTag({ content: ":root{font-size:200% !important} .answers{position:static !important}" });
    await page.screenshot({ path: join(SHOTS, `${name}-390-twice.png`) });
    const [needs, has] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
    assert.ok(needs <= has, `${name} is ${needs} wide in ${has}`);
    for (const details of await page.locator(".answers details").all()) {
      await details.locator("summary").click();
      const cut = await page.$$eval("button, summary, a:not(.skip), h1, dd", (all) =>
        all.filter((one) => one.offsetWidth && (one.getBoundingClientRect().right > innerWidth || one.scrollWidth > one.clientWidth + 1 && one.clientWidth))
          .map((one) => one.textContent));
      assert.deepEqual(cut, [], name);
      await details.locator("summary").click();
    }
  }
});

await check("done shows at once, and the next card comes", {}, async ({ page, server, complaints }) => {
  await page.goto(server.url + BENCH);
  const first = await shown(page);
  await page.getByRole("button", { name: "Done", exact: true }).click();
  await cardMoves(page, first);
  assert.match(await page.locator(".kept").textContent(), /Kept, just now\. Done:/);
  assert.equal(await counted(server), 1);
  await page.screenshot({ path: join(SHOTS, "after-done-390.png") });
  await page.goto(server.url + BENCH + "/order");
  await page.screenshot({ path: join(SHOTS, "order-after-done-390.png") });
  assert.equal(await page.locator("svg.order g.done").count(), 1);
  assert.equal(await page.locator("svg.order g.up").count(), 1);
  assert.deepEqual(complaints, []);
});

await check("two quick taps count once", {}, async ({ page, server }) => {
  await page.goto(server.url + BENCH);
  const first = await shown(page);
  await page.getByRole("button", { name: "Done", exact: true }).dblclick();
  await cardMoves(page, first);
  // Straight after the new card came: this tap was meant for the one before.
  await page.getByRole("button", { name: "Done", exact: true }).click();
  assert.equal(await counted(server), 1);
});

await check("an answer acknowledged before the server is killed is there after", {}, async ({ page, server }) => {
  await page.goto(server.url + BENCH);
  const first = await shown(page);
  const acknowledged = page.waitForResponse((r) => r.url().endsWith("/answer"));
  await page.getByRole("button", { name: "Done", exact: true }).click();
  assert.equal((await acknowledged).status(), 303);
  await server.end("SIGKILL");
  const again = await Server.start(server.data, server.port);
  Object.assign(server, again);
  await page.goto(server.url + BENCH);
  assert.notEqual(await shown(page), first);
  assert.equal(await counted(server), 1);
});

await check("with no connection the tap is kept in the browser, said so, and sent when it is back", {}, async ({ page, server }) => {
  await page.goto(server.url + BENCH);
  const first = await shown(page);
  await server.end("SIGKILL");
  await page.getByRole("button", { name: "Done", exact: true }).click();
  await page.locator("#unsent", { hasText: "not sent yet" }).waitFor();
  await page.screenshot({ path: join(SHOTS, "no-connection-390.png") });
  assert.equal(await shown(page), first);
  const again = await Server.start(server.data, server.port);
  Object.assign(server, again);
  await cardMoves(page, first);
  assert.equal(await counted(server), 1);
  assert.ok(!(await page.locator("#unsent").isVisible()));
});

await check("something's wrong takes one more tap, is kept and shown", {}, async ({ page, server }) => {
  await page.goto(server.url + BENCH);
  const first = await shown(page);
  await page.locator("summary", { hasText: "Something's wrong" }).click();
  await page.getByRole("button", { name: "a fixing snapped" }).click();
  // What can be done about it, each with what it costs from here.
  await page.locator(".trouble", { hasText: "a fixing snapped" }).waitFor();
  await page.locator("button[value=drill-and-insert]").waitFor();
  assert.match(page.url(), /\/trouble\//);
  await page.screenshot({ path: join(SHOTS, "options-390.png"), fullPage: true });
  await page.goto(server.url + BENCH);
  assert.equal(await shown(page), first);
  await page.locator(".trouble", { hasText: "a fixing snapped" }).waitFor();
  await page.screenshot({ path: join(SHOTS, "trouble-390.png") });
});

await check("everything works without scripts", { javaScriptEnabled: false }, async ({ page, server }) => {
  await page.goto(server.url + BENCH);
  const first = await shown(page);
  await page.getByRole("button", { name: "Not now" }).click();
  const second = await shown(page);
  assert.notEqual(second, first);
  await page.getByRole("button", { name: "Done", exact: true }).click();
  const third = await shown(page);
  assert.notEqual(third, second);
  await page.locator("summary", { hasText: "Done another way" }).click();
  await page.getByLabel("or in your own words").last().fill("with <b>two</b> \"hands\"");
  await page.getByRole("button", { name: "Keep these words" }).last().click();
  assert.match(await page.locator(".kept").textContent(), /Done another way: .*with <b>two<\/b> "hands"/);
  assert.equal(await counted(server), 2);
  await page.goto(server.url + BENCH + "?take=" + first);
  assert.equal(await shown(page), first);
  await page.screenshot({ path: join(SHOTS, "put-off-390.png") });
});

await check("by keyboard alone", {}, async ({ page, server }) => {
  await page.goto(server.url + BENCH);
  const first = await shown(page);
  for (let tab = 0; tab < 40; tab++) {
    await page.keyboard.press("Tab");
    if (await page.evaluate(() => document.activeElement.matches("button.primary"))) break;
  }
  const outline = await page.evaluate(() => getComputedStyle(document.activeElement).outlineWidth);
  assert.ok(parseFloat(outline) >= 3, `the focus is ${outline} wide`);
  await page.keyboard.press("Enter");
  await cardMoves(page, first);
  assert.equal(await counted(server), 1);
});

await check("two devices at once: the other's answer is shown, what is being written stays", {}, async ({ page, context, server }) => {
  const other = await context.newPage();
  await page.goto(server.url + BENCH);
  await other.goto(server.url + BENCH);
  const first = await shown(page);
  await other.getByRole("button", { name: "Done", exact: true }).click();
  await cardMoves(other, first);
  await cardMoves(page, first);
  assert.equal(await shown(page), await shown(other));
  await page.locator("#unsent", { hasText: "Recorded on another device" }).waitFor();
  // Half-written words are not taken away; sent, they are answered with what changed.
  const second = await shown(page);
  await page.locator("summary", { hasText: "Something's wrong" }).click();
  await page.getByLabel("or in your own words").first().fill("the bolt");
  await other.getByRole("button", { name: "Done", exact: true }).click();
  await cardMoves(other, second);
  await page.locator("#unsent", { hasText: "What you are writing stays" }).waitFor();
  assert.equal(await page.getByLabel("or in your own words").first().inputValue(), "the bolt");
  await page.getByRole("button", { name: "Keep these words" }).first().click();
  await page.locator("h1", { hasText: "Something was recorded meanwhile" }).waitFor();
  assert.equal(await counted(server), 2);
});

for (const javaScriptEnabled of [true, false]) {
  await check(`a photo is sent and shown, ${javaScriptEnabled ? "with" : "without"} scripts`, { javaScriptEnabled }, async ({ page, server }) => {
    await page.goto(server.url + BENCH);
    const first = await shown(page);
    const picture = await page.screenshot({ type: "jpeg" });
    await page.locator("summary", { hasText: "Photo" }).click();
    await page.setInputFiles("#photo", { name: "../x.jpg", mimeType: "image/jpeg", buffer: picture });
    await page.getByLabel("What it shows").fill("routing of the cables");
    await page.getByRole("button", { name: "Keep it" }).click();
    const image = page.getByAltText("routing of the cables");
    await image.waitFor();
    const drawn = () => page.$eval(".strip img", (img) => img.complete && img.naturalWidth);
    for (let look = 0; look < 100 && !((await drawn()) > 100); look++) await new Promise((later) => setTimeout(later, 50));
    assert.ok((await drawn()) > 100, "the photo is not drawn");
    assert.equal(await shown(page), first);
    await page.screenshot({ path: join(SHOTS, "photo-390.png"), fullPage: true });
    await page.goto(server.url + BENCH);
    await page.locator("summary", { hasText: "Photo" }).click();
    await page.setInputFiles("#photo", { name: "x.jpg", mimeType: "image/jpeg", buffer: Buffer.from("GIF89a no picture") });
    await page.getByRole("button", { name: "Keep it" }).click();
    await page.locator("p", { hasText: "a GIF picture" }).waitFor();
  });
}

await browser.close();
console.log(`screenshots in ${SHOTS}`);
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
