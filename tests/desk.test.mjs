// The whole path of a teacher in a real browser: bring a book in, set up a
// class, decide, undo, plan and print. axe-core must find no violations on any
// page (WCAG 2.2 A and AA rules and best practices).
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { spawn, execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";

const axe = readFileSync(new URL("../node_modules/axe-core/axe.min.js", import.meta.url), "utf8");
const data = mkdtempSync(join(tmpdir(), "bookstead-"));
const port = 20000 + Math.floor(Math.random() * 20000);
const base = `http://127.0.0.1:${port}`;
let server, browser, page;

before(async () => {
  server = spawn("bin/bookstead", ["serve", "--port", String(port), "--data", data], { stdio: ["ignore", "pipe", "inherit"] });
  await new Promise((ok, no) => {
    server.stdout.on("data", (d) => String(d).includes("Bookstead is open") && ok());
    server.on("exit", (c) => no(new Error("the program ended with " + c)));
  });
  browser = await chromium.launch({
    executablePath: process.env.CHROMIUM || "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
  });
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, bypassCSP: true }); // for axe; the policy has its own test
  page = await context.newPage();
  page.setDefaultTimeout(8000);
  const foreign = [];
  page.on("request", (r) => { if (!r.url().startsWith(base) && !r.url().startsWith("data:")) foreign.push(r.url()); });
  page.on("pageerror", (e) => { throw e; });
  page.foreign = foreign;
});

after(async () => {
  await browser?.close();
  server?.removeAllListeners("exit");
  server?.kill("SIGINT");
  await new Promise((ok) => (server ? server.on("exit", ok) : ok()));
  rmSync(data, { recursive: true, force: true });
});

// A school year that lies ahead on the day of the test: from the second Monday
// of September.
const fall = new Date().getFullYear() + 1;
const day = (month, n) => new Date(Date.UTC(fall, month - 1, n));
const monday = (month, n) => { const d = day(month, n); while (d.getUTCDay() !== 1) d.setUTCDate(d.getUTCDate() + 1); return d; };
const iso = (d) => d.toISOString().slice(0, 10);
const long = (d) => d.toLocaleDateString("en-GB", { weekday: "long", day: "numeric", month: "long", timeZone: "UTC" }).replace(",", "");
const first = monday(9, 8), later = monday(10, 8);

async function accessible(where) {
  await page.evaluate(axe);
  const r = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ["violations"] }));
  const found = r.violations.map((v) => `${v.id}: ${v.help} (${v.nodes.map((n) => n.target.join(" ")).slice(0, 3).join("; ")})`);
  assert.deepEqual(found, [], `accessibility of ${where}`);
}

async function settle() {
  // A job's page leads on by itself.
  for (let i = 0; i < 240 && page.url().includes("/jobs/"); i++) await page.waitForTimeout(250);
  await page.waitForLoadState("load");
}

const story = Array.from({ length: 3 }, (_, c) => `CHAPTER ${["ONE", "TWO", "THREE"][c]}\n${["The Gate", "The Well", "The Lamp"][c]}\n\n` +
  Array.from({ length: 24 }, (_, i) => `Nora walked slowly down the narrow lane because the heavy basket hurt her arm. Her brother Will carried a lantern in his hand, and the flame trembled like a leaf. "I shall never reach the harbor before the storm," said Nora in despair. "Then we must hasten," answered Will, and he seized the reluctant donkey by its bridle. Number ${c * 24 + i} of the weary milestones gleamed behind the hedge.`).join("\n\n")).join("\n\n");

test("an empty library leads to a first book", async () => {
  await page.goto(base);
  await accessible("the empty library");
  const file = join(data, "The Lamp.txt");
  writeFileSync(file, `THE LAMP AT THE WELL\n\nby A. Writer\n\n${story}\n\nTHE END\n`);
  await page.setInputFiles("#file", file);
  await page.click("text=Bring it in");
  await settle();
  assert.match(page.url(), /\/books\//);
  assert.equal(await page.locator("table.list tbody tr:not(.soft)").count(), 3);
  await accessible("a book");
});

test("a class is set up and the book opens on its desk", async () => {
  await page.click("button:has-text('Open')");
  await settle();
  assert.match(page.url(), /\/classes\/new/);
  await accessible("class set-up");
  await page.fill("#first", iso(first));
  await page.fill("#last", `${fall}-06-11`);
  await page.click("button:has-text('Save')");
  await page.waitForSelector(".said");
  assert.match(await page.textContent(".said"), new RegExp(`ends on 11 June ${fall}, before it starts`));
  await page.fill("#last", `${fall + 1}-06-11`);
  await page.fill("#students", "Ada B., 92\nBen C.\nChi D., 75, sits near the window");
  await page.click("button:has-text('Save')");
  await page.waitForURL(/\/(kits|jobs)\//);
  await settle();
  await page.waitForSelector("h1:has-text('Lesson 1')");
  await accessible("the desk");
});

test("words are kept, changed, dropped, added and brought back", async () => {
  const note = page.locator(".margin article.note[aria-label=word]").first();
  const id = await note.getAttribute("id");
  const here = page.locator(`[id="${id}"]`);
  await here.locator("button:has-text('Keep')").click();
  await page.waitForSelector(`[id="${id}"].kept`);
  await here.locator("a:has-text('Change')").click();
  await here.locator("input[name=meaning]").fill("a meaning of the teacher’s own");
  await accessible("an item being changed");
  await here.locator("button:has-text('Save')").click();
  await page.waitForSelector(`[id="${id}"].changed`);
  assert.match(await here.textContent(), /a meaning of the teacher’s own/);
  await here.locator("button:has-text('Drop')").click();
  await page.waitForSelector(`[id="${id}"].dropped`);
  await page.locator("#undo button:has-text('Undo')").click();
  await page.waitForSelector(`[id="${id}"].changed`);
  assert.match(await here.textContent(), /a meaning of the teacher’s own/);

  await page.selectOption("#kind", "question");
  await page.fill("#head", "What does Will carry in his hand?");
  await page.fill("#answer", "He carries a lantern.");
  await page.click("#add button");
  await page.waitForSelector(".note.added");
  await page.goto(page.url().split("?")[0]);
  assert.match(await page.textContent("main"), /What does Will carry in his hand\?/);
});

test("a child's answer is looked at and kept", async () => {
  const desk = page.url();
  await page.click(".note.added a:has-text('Answers')");
  await page.waitForLoadState("load");
  await accessible("answers");
  await page.fill("#text", "he carrys a lantern");
  await page.click("button:has-text('Look at it')");
  await page.waitForSelector("text=This is advice, not a grade");
  assert.match(await page.textContent(".found"), /carries/);
  await accessible("an answer that was looked at");
  await page.selectOption("#verdict", "correct");
  await page.click("button:has-text('Keep the answer')");
  await page.waitForSelector("text=Answers kept");
  assert.match(await page.textContent("main"), /he carrys a lantern.*right/s);
  await page.click("text=Take it out");
  await page.waitForLoadState("load");
  assert.doesNotMatch(await page.textContent("main"), /he carrys a lantern/);
  await page.goto(desk);
});

test("the board shows the lesson large", async () => {
  const desk = page.url();
  await page.click("text=Board");
  await page.waitForLoadState("load");
  await accessible("the board");
  await page.goto(desk);
});

test("the desk works by keyboard", async () => {
  const note = page.locator(".margin article.note").first();
  await note.focus();
  await page.keyboard.press("j");
  const second = await page.locator(".margin article.note").nth(1).getAttribute("id");
  assert.equal(await page.evaluate(() => document.activeElement.id), second);
});

test("lessons are divided otherwise, and undone", async () => {
  await page.click("nav >> text=Lessons");
  await accessible("the lessons");
  const before = await page.locator("tbody tr[id^=lesson-]").count();
  await page.locator("a:has-text('Move or split')").first().click();
  await accessible("a lesson being moved");
  await page.locator("button:has-text('Split here')").click();
  await page.waitForLoadState("load");
  assert.equal(await page.locator("tbody tr[id^=lesson-]").count(), before + 1);
  await page.locator("button:has-text('Undo: Split')").click();
  await page.waitForLoadState("load");
  assert.equal(await page.locator("tbody tr[id^=lesson-]").count(), before);
});

test("pages of the class's own copy are typed and reckoned", async () => {
  await page.click("nav >> text=Your copy");
  await accessible("the pages");
  const first = page.locator("input[name^=first-]");
  await first.nth(0).fill("7");
  await first.nth(1).fill("19");
  await first.nth(2).fill("12");
  await page.fill("#last", "50");
  await page.click("text=Save the pages");
  await page.waitForSelector(".said");
  await first.nth(2).fill("33");
  await page.click("text=Save the pages");
  await page.waitForLoadState("load");
  assert.match(await page.textContent("main"), /pages? 7/);
});

test("the plan lies on the calendar and a lesson is moved", async () => {
  await page.click("nav >> text=Plan");
  await settle();
  await accessible("the plan");
  assert.match(await page.textContent("main"), new RegExp(`Mon ${first.getUTCDate()} Sep`));
  await page.selectOption("#choice", { index: 1 });
  await page.fill("#date", iso(later));
  await page.click("text=Move it");
  await page.waitForSelector(`text=starts on ${long(later)}`);
  await page.click("button:has-text('Undo: Moved')");
  await page.waitForLoadState("load");
  assert.ok(!(await page.textContent("main")).includes(`starts on ${long(later)}`));
  await page.click("text=Agree to this plan");
  await page.waitForSelector("text=Version 1 is agreed, and this is it");
});

test("a lost day shows what changes, and earlier plans come back", async () => {
  const plan = page.url(), second = page.locator("tr[data-date] th a").nth(1);
  const lost = await second.textContent();
  await second.click();
  await page.waitForLoadState("load");
  await accessible("a school day");
  await page.check("[name=lost]");
  await page.fill("#why", "Burst pipe");
  await page.click("text=Save, and see what changes");
  await page.waitForSelector("text=What changes");
  await accessible("a plan that changes");
  assert.match(await page.textContent(`tr:has-text("${lost}")`), /Burst pipe/);
  const ics = await (await page.request.get(await page.locator("a:has-text('Calendar file')").getAttribute("href").then((h) => base + h))).text();
  assert.match(ics, /SEQUENCE:1\r\n/); // what is not agreed is not in it
  await page.click("text=Agree to this plan");
  await page.waitForSelector("text=Version 2 is agreed, and this is it");
  await page.click("summary:has-text('Earlier versions')");
  await page.click("a:has-text('Version 1')");
  await page.waitForLoadState("load");
  await accessible("an earlier plan");
  await page.click("text=Bring this plan back");
  await page.waitForSelector("text=Version 3 is agreed");
  await page.click("button:has-text('Undo: Noted')");
  await page.waitForSelector("text=Version 3 is agreed, and this is it");
  await page.goto(plan);
});

test("words and what to get ready", async () => {
  await page.click("nav >> text=Words");
  await settle();
  await accessible("words");
  await page.fill("#words", "lantern: a lamp to carry\nmilestone");
  await page.click("text=Save the list");
  await settle();
  assert.match(await page.inputValue("#words"), /lantern: a lamp to carry/);
  await page.click("nav >> text=Get ready");
  await settle();
  await page.click("text=Plan my reading");
  await page.waitForSelector("text=Brysbaert 2019");
  await page.evaluate(() => document.querySelectorAll("details").forEach((d) => { d.open = true; }));
  await accessible("getting ready");
  await page.click("nav >> text=Lessons");
  await page.click("button:has-text('Undo: Changed your list of words')");
  await page.waitForLoadState("load");
});

test("books are chosen, and what to buy is worked out", async () => {
  const kit = page.url();
  await page.click("nav >> text=Plan");
  await settle();
  await page.click("text=Novels and paper");
  await settle();
  await page.fill("#owned", "The Lamp at the Well: 1");
  await page.fill("#offers", "The Lamp at the Well: Corner Books 4.50");
  await page.click("text=Save, and work it out");
  await settle();
  await accessible("novels and paper");
  assert.match(await page.textContent("main"), /13\.50/); // three children and the teacher, one copy there
  await page.goBack();
  await page.goto(kit);
  await page.click("nav >> text=Plan");
  await settle();
  await page.click("text=Choose books");
  await page.click("text=Look into them");
  await settle();
  await accessible("choosing books");
  await page.click("th[scope=row] a:has-text('The Lamp at the Well')");
  await settle();
  await accessible("a book that may be chosen");
  await page.goto(kit);
});

test("a day of all classes on the clock", async () => {
  const kit = page.url();
  await page.goto(`${base}/days/${iso(first)}`);
  await settle();
  await accessible("a timetable");
  assert.match(await page.textContent("main"), /09:00/);
  await page.selectOption("#block", { index: 0 });
  await page.fill("#at", "10:15");
  await page.click("text=Put it there");
  await page.waitForSelector("text=is held at 10:15");
  await page.click("text=Let it move again");
  await page.waitForLoadState("load");
  assert.doesNotMatch(await page.textContent("main"), /is held at/);
  await page.goto(kit);
});

test("what was missed gets a second chance", async () => {
  await page.click("nav >> text=Print");
  await settle();
  await page.click("text=A second chance");
  await settle();
  await accessible("a second chance");
  const missed = await page.locator("[name=missed]").first().getAttribute("value");
  const r = await page.request.get(page.url() + "?quiz=0&missed=" + encodeURIComponent(missed));
  assert.equal(r.status(), 200);
  assert.equal((await r.body()).subarray(0, 5).toString(), "%PDF-");
});

test("papers are printed", async () => {
  await page.click("nav >> text=Print");
  await accessible("print");
  const links = await page.locator("table.list a").evaluateAll((as) => as.map((a) => a.href));
  assert.ok(links.length >= 6);
  const pages = {};
  for (const href of links) {
    const r = await page.request.get(href);
    assert.equal(r.status(), 200, href);
    const pdf = join(data, "paper.pdf");
    writeFileSync(pdf, await r.body());
    execFileSync("qpdf", ["--check", pdf]);
    pages[href.split("/").pop().split("?")[0]] = Number(/Pages:\s+(\d+)/.exec(execFileSync("pdfinfo", [pdf], { encoding: "utf8" }))[1]);
    const text = execFileSync("pdftotext", ["-layout", pdf, "-"], { encoding: "utf8" });
    if (href.includes("/student-pages")) {
      assert.match(text, /What does Will carry in his hand\?/);
      assert.doesNotMatch(text, /He carries a lantern/);
    }
    if (href.includes("/teachers-edition")) assert.match(text, /He carries a lantern/);
  }
  assert.equal(pages["student-pages.pdf"], pages["teachers-edition.pdf"]);
});

test("a small laptop and a tablet show every page without sideways scrolling", async () => {
  const kit = page.url().match(/\/kits\/([^/]+)/)[1];
  for (const size of [{ width: 1024, height: 600 }, { width: 768, height: 1024 }, { width: 390, height: 800 }]) {
    await page.setViewportSize(size);
    for (const path of ["/", `/kits/${kit}/lessons/1`, `/kits/${kit}/lessons`, `/kits/${kit}/print`, `/kits/${kit}/pages`]) {
      await page.goto(base + path);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      assert.ok(wide <= 0, `${path} at ${size.width} is ${wide} px too wide`);
    }
    await accessible(`the desk's pages at ${size.width}`);
  }
  await page.setViewportSize({ width: 1280, height: 800 });
});

test("a broken file gets a clear sentence", async () => {
  await page.goto(base);
  const file = join(data, "broken.epub");
  writeFileSync(file, "PK\x03\x04 and then nothing that a zip would hold");
  await page.setInputFiles("#file", file);
  await page.click("#bring button");
  await settle();
  const text = await page.textContent("main");
  assert.match(text, /This did not work/);
  assert.doesNotMatch(text, /zip:|panic|goroutine|\.go:/);
  await accessible("a page that says what is wrong");
});

test("nothing is loaded from outside", () => assert.deepEqual(page.foreign, []));

test("foreign hosts and origins are refused", async () => {
  const http = await import("node:http");
  const ask = (headers, method = "GET") => new Promise((ok, no) => {
    http.request({ host: "127.0.0.1", port, path: method === "GET" ? "/" : "/kits", method, headers }, (r) => { r.resume(); ok([r.statusCode, r.headers]); }).on("error", no).end();
  });
  assert.equal((await ask({ host: "evil.example" }))[0], 421);
  assert.equal((await ask({ host: `127.0.0.1:${port}`, origin: "http://evil.example" }, "POST"))[0], 403);
  const [code, headers] = await ask({ host: `127.0.0.1:${port}` });
  assert.equal(code, 200);
  assert.match(headers["content-security-policy"], /default-src 'none'/);
});
