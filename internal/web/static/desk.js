// What the desk can do only in the browser. Every page works without it.
"use strict";

// The item and its words in the text light up together.
function pair(el) {
  const note = el.closest("article.note");
  if (note) return [note, document.getElementById(note.dataset.at)];
  const mark = el.closest("a.m");
  return mark ? [mark, document.querySelector(mark.getAttribute("href"))] : [];
}
for (const [on, off] of [["mouseover", "mouseout"], ["focusin", "focusout"]]) {
  document.addEventListener(on, (e) => pair(e.target).forEach((x) => x?.classList.add("lit")));
  document.addEventListener(off, (e) => pair(e.target).forEach((x) => x?.classList.remove("lit")));
}

// The notes run down the margin by themselves: each stands beside its paragraph
// or, when the one above it is long, below that one. The text stays whole.
function margin() {
  const spread = document.querySelector(".spread");
  if (!spread) return;
  const wide = matchMedia("(min-width: 861px)").matches;
  spread.classList.toggle("beside", wide);
  let end = 0;
  for (const m of spread.querySelectorAll(".margin")) {
    const top = Math.max(m.parentElement.offsetTop, end);
    m.style.top = wide ? top + "px" : "";
    end = top + m.offsetHeight;
  }
  spread.style.minHeight = wide ? end + "px" : "";
}
margin();
document.fonts.ready.then(margin);
addEventListener("resize", margin);
document.addEventListener("toggle", (e) => { if (e.target.closest?.(".margin")) margin(); }, true);

// Words selected in the text go into the form for an item of one's own.
const bytes = (s) => new TextEncoder().encode(s).length;
document.addEventListener("selectionchange", () => {
  const add = document.getElementById("add"), sel = document.getSelection();
  if (!add || !sel || sel.isCollapsed || !sel.toString().trim()) return;
  const block = sel.anchorNode?.parentElement?.closest(".text");
  if (!block || !block.contains(sel.focusNode)) return;
  const r = sel.getRangeAt(0), before = document.createRange();
  before.selectNodeContents(block);
  before.setEnd(r.startContainer, r.startOffset);
  // The page shows curly quotes and dashes where the file may have straight
  // ones; the server looks the words up near this place.
  add.elements.start.value = Number(block.dataset.start) + bytes(before.toString());
  add.elements.end.value = Number(add.elements.start.value) + bytes(r.toString());
  add.elements.sentence.value = r.toString().trim();
  if (r.toString().trim().split(/\s+/).length === 1) add.elements.head.value = r.toString().trim();
  document.getElementById("picked").textContent = "Tied to “" + r.toString().trim().slice(0, 80) + "”.";
});

// A book's file can be dropped on its form.
const bring = document.getElementById("bring");
if (bring) {
  const file = bring.querySelector("input[type=file]");
  for (const t of ["dragover", "dragenter"]) bring.addEventListener(t, (e) => { e.preventDefault(); bring.classList.add("over"); });
  bring.addEventListener("dragleave", () => bring.classList.remove("over"));
  bring.addEventListener("drop", (e) => {
    e.preventDefault();
    bring.classList.remove("over");
    if (e.dataTransfer.files.length) { file.files = e.dataTransfer.files; bring.requestSubmit(); }
  });
}

// A lesson of the plan can be dragged to another day; its form does the same by keyboard.
document.addEventListener("dragstart", (e) => {
  const step = e.target.closest?.("[draggable=true][data-lesson]");
  if (step) e.dataTransfer.setData("text/plain", step.dataset.kit + " " + step.dataset.lesson);
});
document.addEventListener("dragover", (e) => { if (e.target.closest?.("tr[data-date]")) { e.preventDefault(); e.target.closest("tr").classList.add("over"); } });
document.addEventListener("dragleave", (e) => e.target.closest?.("tr[data-date]")?.classList.remove("over"));
document.addEventListener("drop", (e) => {
  const row = e.target.closest?.("tr[data-date]"), form = document.getElementById("pin");
  if (!row || !form) return;
  e.preventDefault();
  const [kit, lesson] = e.dataTransfer.getData("text/plain").split(" ");
  if (!lesson) return;
  form.elements.kit.value = kit;
  form.elements.lesson.value = lesson;
  form.elements.date.value = row.dataset.date;
  form.requestSubmit();
});

// A piece of work of a day can be dragged to the time of another row.
document.addEventListener("dragstart", (e) => {
  const block = e.target.closest?.("[draggable=true][data-block]");
  if (block) e.dataTransfer.setData("text/x-block", block.dataset.block);
});
document.addEventListener("dragover", (e) => { const row = e.target.closest?.("tr[data-clock]"); if (row) { e.preventDefault(); row.classList.add("over"); } });
document.addEventListener("dragleave", (e) => e.target.closest?.("tr[data-clock]")?.classList.remove("over"));
document.addEventListener("drop", (e) => {
  const row = e.target.closest?.("tr[data-clock]"), form = document.getElementById("hold");
  const block = e.dataTransfer.getData("text/x-block");
  if (!row || !form || !block) return;
  e.preventDefault();
  form.elements.block.value = block;
  form.elements.at.value = row.dataset.clock;
  form.requestSubmit();
});

// Keys: j and k walk through the items, Enter on one opens its change form.
document.addEventListener("keydown", (e) => {
  if (e.ctrlKey || e.metaKey || e.altKey || /^(INPUT|TEXTAREA|SELECT)$/.test(e.target.tagName)) return;
  // Only while an item has the focus, so that no key acts by surprise (WCAG 2.1.4).
  if ((e.key !== "j" && e.key !== "k") || !document.activeElement.closest("article.note")) return;
  const notes = [...document.querySelectorAll(".margin article.note")];
  const at = notes.indexOf(document.activeElement.closest("article.note"));
  const to = notes[at + (e.key === "j" ? 1 : -1)];
  if (to) { to.focus(); to.scrollIntoView({ block: "center" }); }
});

// After an item was swapped, the focus goes back to it.
document.addEventListener("htmx:afterSwap", (e) => {
  margin();
  const id = e.detail.target?.id;
  const now = id && id.startsWith("item-") && document.getElementById(id);
  if (now) (now.querySelector("input:not([type=hidden]), textarea") || now).focus({ preventScroll: true });
});
