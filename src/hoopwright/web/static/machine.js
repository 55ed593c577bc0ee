"use strict";
/* The card at the press. Every press of a button is stored on the tablet before the screen changes; what is stored is
   sent in order and once, under a number made here; the page and its data stay readable while the network is away. */
(() => {
  const $ = q => document.querySelector(q), all = q => [...document.querySelectorAll(q)];
  const NB = "\u00a0", mm = (v, d = 2) => v.toFixed(d).replace("-", "\u2212");
  let card = JSON.parse($("#card").textContent);
  const serial = card.serial;
  let made = [], set = null, over = false, who = "", screen = "cautions", pad = "";

  /* --- the tablet's own store */
  const open = new Promise((ok, no) => {
    const r = indexedDB.open("hoopwright-machine", 1);
    r.onupgradeneeded = () => { r.result.createObjectStore("outbox", { keyPath: "key" }); r.result.createObjectStore("ring", { keyPath: "serial" }); };
    r.onsuccess = () => ok(r.result); r.onerror = () => no(r.error);
  });
  const tx = async (name, mode, f) => {
    const db = await open;
    return new Promise((ok, no) => {
      const t = db.transaction(name, mode, { durability: "strict" }), r = f(t.objectStore(name));
      t.oncomplete = () => ok(r && r.result); t.onerror = t.onabort = () => no(t.error);
    });
  };
  const put = (name, value) => tx(name, "readwrite", s => s.put(value));
  const get = (name, key) => tx(name, "readonly", s => s.get(key));
  const drop = (name, key) => tx(name, "readwrite", s => s.delete(key));
  const waiting = () => tx("outbox", "readonly", s => s.getAll());

  const number = () => [...crypto.getRandomValues(new Uint8Array(16))].map(b => b.toString(16).padStart(2, "0")).join("");
  const clock = () => new Date().toTimeString().slice(0, 5);

  /* --- sending: in order, once */
  let sending = false;
  const flush = async () => {
    if (sending) return; sending = true;
    let asked = 0, lost = false;
    try {
      const rows = (await waiting()).sort((a, b) => a.order - b.order);
      for (const row of rows) {
        let got;
        try { got = await fetch(row.url, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(row.body) }); }
        catch (e) { lost = true; break; }
        if (got.ok) await drop("outbox", row.key);
        else if (got.status >= 500 || got.status === 429 || got.status === 401) { lost = true; break; }
        else { const said = await got.json().catch(() => null); row.refused = said ? said.faults[0].what : "refused"; await put("outbox", row); asked++; }
      }
    } finally { sending = false; }
    await state(lost, asked);
    if (!lost) await refresh();
  };
  const state = async (lost, asked) => {
    const left = await waiting(), n = left.length;
    const refused = left.filter(r => r.refused);
    $("#sync").textContent = n === 0 ? "stored at the desk" : `saved on this tablet ${clock()}\n` + (refused.length ? `the desk asks: ${refused[0].refused}` : `desk: ${n} record${n > 1 ? "s" : ""} to send`);
    document.body.dataset.waiting = n;
  };
  const refresh = async () => {
    try {
      const got = await fetch("/api/press/" + encodeURIComponent(serial));
      if (!got.ok) return;
      card = await got.json();
      const ids = new Set(card.read.map(r => r.record));
      made = made.filter(m => !ids.has(m.id) && !m.sent);
      if ((await waiting()).length === 0) made = [];
      await keep(); show();
    } catch (e) { /* away: what is on the tablet stands */ }
  };
  const keep = () => put("ring", { serial, card, made, set, over, who });
  const store = async (url, body, key) => { await put("outbox", { key, url, body, order: Date.now() + Math.random() }); await keep(); await state(); show(); flush(); };

  /* --- what to set next, from what the desk sent and what was read since */
  const up = (v, s) => Math.ceil(v / s - 1e-9) * s;
  const reads = () => [...card.read.map(r => ({ id: r.record, free: r.free_mm, stop: r.stop_mm })), ...made.map(m => ({ id: m.id, free: m.free_mm, stop: m.stop_mm }))];
  const next = () => {
    if (!made.length) return { stop: card.stop_mm, change: card.change_mm, loaded: card.loaded_mm, free: card.free_mm, low: card.low_mm, high: card.high_mm, finding: card.finding };
    const last = made[made.length - 1];
    if (last.free_mm > card.target_mm + card.tolerance_mm) return { ...last.at, finding: { sentence: `The ring is ${mm(last.free_mm - card.target_mm - card.tolerance_mm)} over its limit and cannot be shrunk.`, remedy: "pair it with a larger mate, or ask for a concession" } };
    if (last.free_mm >= card.target_mm - 0.5 * card.tolerance_mm) return { ...last.at, done: true };
    if (last.free_mm < last.may[0] || last.free_mm > last.may[1]) return { ...last.at, finding: { sentence: "No correction: the ring springs back unlike its plan.", remedy: "check seat, stop and hardness, then read again" } };
    const step = up((card.target_mm - last.free_mm) * card.per_mm - 0.005, 0.01), stop = last.stop_mm + step;
    const loaded = last.at.loaded + step * card.girth_per_mm, free = card.target_mm;
    return { stop, change: step, loaded, free, low: free - 0.03, high: free + 0.03 };
  };
  const hit = () => reads().length + 1;

  /* --- screens */
  const go = name => { screen = name; show(); };
  const button = (text, small, act, main) => { const b = document.createElement("button"); b.textContent = text; if (main) b.className = "go"; if (small) { const s = document.createElement("small"); s.textContent = small; b.append(s); } b.addEventListener("click", act); return b; };
  const buttons = (...bs) => $("#btns").replaceChildren(...bs.filter(Boolean));
  const gauge = (low, high, a, b, nom, read) => {
    const vals = [low, high, a, b, nom, read].filter(v => v != null), x0 = Math.min(...vals) - 0.06, x1 = Math.max(...vals) + 0.06, X = v => (10 + 360 * (v - x0) / (x1 - x0)).toFixed(1);
    return `<svg viewBox="0 0 380 52" role="img" aria-label="limits ${mm(low)} to ${mm(high)}, next ${mm(nom)}${read ? ", read " + mm(read) : ""}"><path class="axis" d="M10 18H370"/><path class="lim" d="M${X(low)} 18H${X(high)}M${X(low)} 8V28M${X(high)} 8V28"/><rect class="bar9" x="${X(a)}" y="12" width="${Math.max(3, X(b) - X(a)).toFixed(1)}" height="12"/><path class="tick" d="M${X(nom)} 7V29"/>${read ? `<path class="dia" d="M${X(read)} 9l7 9l-7 9l-7-9z"/>` : ""}<text x="${X(low)}" y="48" text-anchor="middle">${mm(low)}</text><text x="${X(high)}" y="48" text-anchor="middle">${mm(high)}</text></svg>`;
  };
  const show = () => {
    document.body.dataset.screen = screen;
    for (const s of all("main > section")) s.hidden = s.id !== "s-" + screen;
    const n = next(), rs = reads(), last = rs[rs.length - 1], T = card.target_mm, t = card.tolerance_mm;
    $("#hitwords").textContent = ["", "first", "second", "third", "fourth"][hit()] ? `${["", "first", "second", "third", "fourth"][hit()]} hit` : `hit ${hit()}`;
    $("#lastread").textContent = (last ? `hit ${rs.length} read ${mm(last.free)}; ` : "") + `wanted ${mm(T)} \u00b1 ${mm(t)}`;
    $("#setwords").textContent = set ? set.id + " " + set.revision : ""; if (set) { const s = document.createElement("small"); s.textContent = over ? "used over its refusal; recorded" : "segment set, label read: right one"; $("#setwords").append(document.createElement("br"), s); }
    if (screen === "cautions") buttons(button("Read: go on", "the segment set comes next", () => { if (card.finding && !made.length && !card.read.length) return refuse(card.finding.sentence, card.finding.why, card.finding.remedy, false); go("label"); }, true), button("Other ring", "scan or pick", other));
    else if (screen === "label") { labels(); buttons(button("Back to the cautions", "", () => go("cautions")), button("Other ring", "scan or pick", other)); }
    else if (screen === "main") main(n, last);
    else if (screen === "pad") padShow();
    else if (screen === "done") { $("#donehead").textContent = `${serial} is to size.`; $("#donetext").textContent = `Free ${card.control_words} ${mm(last.free)}; wanted ${mm(T)} \u00b1 ${mm(t)}. Take the ring off, mark it, lay it on its plug.`; buttons(button("Other ring", "scan or pick", other, true), button("Undo", `free ${mm(last.free)}`, undo)); }
  };
  const other = () => { location.href = "/" + card.liner + "@" + card.revision + "/" + card.ring + "/set"; };
  const labels = () => {
    $("#labels").replaceChildren(...card.sets.filter(s => s.id.includes(serial.split("-")[0]) || !s.refusal).map(s => button(s.id, s.revision ? "revision " + s.revision : "", () => take(s.id))));
  };
  $("#labelform").addEventListener("submit", e => { e.preventDefault(); take($("#label").value.trim().toUpperCase()); });
  const take = id => {
    const s = card.sets.find(x => x.id === id), live = card.sets.find(x => !x.refusal);
    if (!s) return refuse("No such segment set.", `The register knows no ${id || "set without a number"}.`, live ? `take ${live.id}` : "ask the desk", false);
    if (s.refusal) return refuse("Not this segment set.", `The label reads ${s.id}. ${s.refusal}`, s.remedy, s);
    set = s; over = false; keep(); go("main");
  };
  const refuse = (head, text, remedy, dead) => {
    $("#refusedhead").textContent = head; $("#refusedtext").textContent = text || ""; $("#refuseddo").textContent = remedy ? "Do: " + remedy + "." : "";
    screen = "refused"; show();
    const live = card.sets.find(x => !x.refusal);
    buttons(button(dead !== false || head.startsWith("No such") ? "Read another label" : "Other ring", "", dead !== false || head.startsWith("No such") ? () => go("label") : other, true),
      dead && live ? button(`Where is ${live.id}?`, live.place || "its place is not in the register", () => { $("#refuseddo").textContent = live.place ? live.place : "Its place is not in the register: ask the tool room."; }) : null,
      dead ? button(`I must use ${dead.id}`, "asks the owner of the ring; recorded", () => { set = dead; over = true; keep(); go("main"); }) : null,
      !dead && dead !== undefined && reads().length ? button("Undo", "take back the last reading", undo) : null);
  };
  const main = (n, last) => {
    if (n.done) { screen = "done"; return show(); }
    if (n.finding && /no further hit/.test(n.finding.sentence)) { screen = "done"; return show(); }
    if (n.finding) return refuse("Nothing to set.", n.finding.sentence + (n.finding.why ? " " + n.finding.why : ""), n.finding.remedy, false);
    $("#stop").textContent = mm(n.stop); $("#loaded").textContent = mm(n.loaded); $("#free").textContent = mm(n.free);
    $("#stopwords").textContent = (n.change != null ? `${mm(n.change)} further than last time.\n` : "") + `Pull about ${card.pull_kN.toFixed(0)} kN, never over ${card.never_kN.toFixed(0)}. Hold ${card.hold_s}\u00a0s.`;
    $("#freewords").textContent = `expect ${mm(n.low)} to ${mm(n.high)}`;
    const T = card.target_mm, t = card.tolerance_mm;
    $("#gauge").innerHTML = gauge(T - t, T + t, n.low, n.high, n.free, last && last.free);
    $("#tide").replaceChildren(...Array.from({ length: 11 }, (_, i) => {
      const k = i - 5, tr = document.createElement("tr"), free = n.free + 0.1 * k * card.girth_per_mm;
      tr.className = (k === 0 ? "sel " : "") + (free >= T - t && free <= T + t ? "in" : "");
      for (const v of [n.stop + 0.1 * k, n.loaded + 0.1 * k * card.girth_per_mm, free]) { const td = document.createElement("td"); td.textContent = mm(v); tr.append(td); }
      const td = document.createElement("td"); td.className = "nt"; td.textContent = k === 0 ? "this hit" : ""; tr.append(td); return tr;
    }));
    $("#cap").textContent = `Heavy rule: ends in tolerance. Over ${mm(T + t)}: stop. A ring cannot be shrunk.`;
    const pic = hit() === 1 ? 0 : hit() % 2 === 0 ? 1 : 2;
    for (const p of all(".pic")) p.hidden = +p.dataset.pic !== pic;
    buttons(button("Hit made: enter free \u00d8", "number pad opens", () => { pad = ""; go("pad"); }, true),
      button("Ring not seated", "ask before the next hit", () => refuse("Do not hit.", "A ring that is not seated leans and comes off uneven.", "let the pin back, wipe the base, seat the ring, read the label again", false)),
      last ? button("Undo", `free \u00d8 ${mm(last.free)}`, undo) : null, button("Other ring", "scan or pick", other));
  };
  /* --- number pad: the decimal point is fixed at the digits of the gauge */
  const value = () => Number(pad || 0) / 100;
  let twice = false;
  const padShow = () => {
    $("#padwords").textContent = `Free ${card.control_words} of ${serial}, by tape at 20 \u00b0C`;
    $("#padvalue").textContent = value().toFixed(2) + " mm";
    if (!$("#pad").children.length) for (const d of ["1", "2", "3", "4", "5", "6", "7", "8", "9", "\u232b", "0", "C"]) { const b = document.createElement("button"); b.textContent = d; b.setAttribute("aria-label", d === "\u232b" ? "take the last figure back" : d === "C" ? "clear" : d); b.addEventListener("click", () => { twice = false; pad = d === "C" ? "" : d === "\u232b" ? pad.slice(0, -1) : (pad + d).slice(0, 7); padShow(); }); $("#pad").append(b); }
    buttons(button(twice ? "Enter it all the same" : "Enter this reading", twice ? "this is not what was expected" : "", enter, true), button("Back", "", () => go("main")));
  };
  document.addEventListener("keydown", e => { if (screen !== "pad") return; if (/^\d$/.test(e.key)) { twice = false; pad = (pad + e.key).slice(0, 7); padShow(); } else if (e.key === "Backspace") { pad = pad.slice(0, -1); padShow(); } });
  const enter = async () => {
    const n = next(), v = value();
    if (!(v > 0.9 * card.target_mm && v < 1.1 * card.target_mm)) { $("#padwords").textContent = `${v.toFixed(2)} mm is no size of this ring: read the tape again.`; return; }
    if (Math.abs(v - n.free) > 0.4 && !twice) { twice = true; $("#padwords").textContent = `Expected ${mm(n.low)} to ${mm(n.high)}, entered ${v.toFixed(2)}. Is it so?`; buttons(button("Enter it all the same", "this is not what was expected", enter, true), button("Back", "", () => go("main"))); return; }
    twice = false;
    const id = number(), spring = 0.5 * (card.may_low_mm + card.may_high_mm), shift = n.loaded - card.loaded_mm;
    made.push({ id, free_mm: v, stop_mm: n.stop, at: n, may: [card.may_low_mm + shift, card.may_high_mm + shift] });
    screen = "main";
    await store("/api/records/hits", { id, serial, control: card.control, segment_set: set.id, stop_mm: +n.stop.toFixed(3), free_mm: v, by: who || "press", at: new Date().toISOString(), over, gauge: "girth tape" }, id);
  };
  const undo = async () => {
    const rs = reads(), last = rs[rs.length - 1];
    if (!last) return;
    if (made.length) made.pop(); else card.read.pop();
    screen = set ? "main" : "label";
    await store("/api/records/" + last.id + "/undo", { by: who || "press" }, last.id + ".undo");
  };
  addEventListener("online", flush); setInterval(flush, 5000);
  if ("serviceWorker" in navigator) navigator.serviceWorker.register("/press.js").then(() => navigator.serviceWorker.ready).then(() => { document.body.dataset.offline = "ready"; });
  get("ring", serial).then(async was => {
    if (was) { const ids = new Set(card.read.map(r => r.record)); const left = await waiting(); made = was.made.filter(m => !ids.has(m.id) && left.some(r => r.key === m.id)); if (left.length) card.read = card.read.filter(r => !left.some(x => x.key === r.record + ".undo")); who = was.who || ""; }
    show(); await state(); flush();
  });
})();
