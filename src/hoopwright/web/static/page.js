"use strict";
/* Live redraw while a slider moves: the straight-line estimate at once, dotted; the full run in its place. One request
   is in flight, the last value wins. Without this script every form works by plain submit. */
(() => {
  const $ = (q, r) => (r || document).querySelector(q), all = (q, r) => [...(r || document).querySelectorAll(q)];
  const bind = () => {
    const levers = $("#levers");
    if (!levers) return;
    let slopes = null, base = null, busy = false, again = false;
    const state = () => Object.fromEntries(all("input[type=range]", levers).map(i => [i.name, +i.value]));
    const shown = () => Object.fromEntries(all("#live [data-figure]").map(a => [a.dataset.figure, a.textContent]));
    const start = () => { base = { at: state(), text: shown() }; };
    start();
    const ask = () => {
      const q = new URLSearchParams(state());
      return levers.action + "/live?" + q;
    };
    const moved = () => JSON.stringify(state()) !== JSON.stringify(first);
    const first = state();
    const guess = () => {
      if (!slopes) return;
      const now = state();
      for (const a of all("#live [data-figure]")) {
        const key = a.dataset.figure, text = base.text[key];
        if (text === undefined) continue;
        const m = text.match(/([\u2212-]?[\d\u202f]*\.?\d+)/);
        if (!m) continue;
        let change = 0;
        for (const n in now) if (slopes[n] && key in slopes[n]) change += slopes[n][key] * (now[n] - base.at[n]);
        const digits = (m[1].split(".")[1] || "").length;
        const old = +m[1].replace("\u2212", "-").replace(/\u202f/g, "");
        if (Math.abs(change) * 10 ** digits < 0.5) continue;
        a.textContent = text.replace(m[1], (old + change).toFixed(digits).replace("-", "\u2212"));
        a.classList.add("guess");
        const tick = $(".hw-reckoned-tick", a.parentNode), span = gauges.get(key);
        if (tick && span) tick.setAttribute("transform", `translate(${(change * span).toFixed(2)} 0)`);
      }
      $("#livestate").textContent = "Straight-line estimate, dotted; reckoning the full run.";
    };
    /* pixels of a gauge for each unit, from its two end stops and their printed limits */
    const gauges = new Map();
    const measure = () => {
      gauges.clear();
      for (const a of all("#live [data-figure]")) {
        const g = a.parentNode.querySelector("svg.gauge");
        const m = g && g.getAttribute("aria-label").match(/limits ([\d.]+)\D+?([\d.]+)/);
        if (!m) continue;
        const x = all(".hw-wide", g).map(p => p.getBBox()).filter(b => b.width < 0.01).map(b => b.x).sort((p, q) => p - q);
        if (x.length > 1) gauges.set(a.dataset.figure, (x[x.length - 1] - x[0]) / (m[2] - m[1]));
      }
    };
    measure();
    const run = async () => {
      if (busy) { again = true; return; }
      busy = true;
      try {
        const from = JSON.stringify(state());
        const got = await fetch(ask(), { headers: { "HX-Request": "true" } });
        const text = await got.text();
        if (got.ok && from === JSON.stringify(state())) {
          const box = document.createElement("template");
          box.innerHTML = text;
          $("#live").replaceWith(box.content.querySelector("#live"));
          if (window.htmx) htmx.process($("#live"));
          start(); measure();
          document.dispatchEvent(new CustomEvent("hw:run"));
          const url = moved() ? "?if=" + Object.entries(state()).filter(([n, v]) => v !== first[n]).map(([n, v]) => n + ":" + v).join(",") : location.pathname;
          history.replaceState(null, "", url);
        } else if (got.ok) again = true;
      } catch (e) { $("#livestate").textContent = "The server does not answer; the estimate stands."; }
      busy = false;
      if (again) { again = false; run(); }
    };
    levers.addEventListener("input", e => {
      const i = e.target, text = (+i.value).toFixed(+i.dataset.digits) + (i.dataset.unit ? " " + i.dataset.unit : "");
      $("#out-" + i.name).textContent = text;
      i.setAttribute("aria-valuetext", text);
      guess();
      run();
    });
    levers.addEventListener("submit", e => { e.preventDefault(); location.search = "?if=" + Object.entries(state()).filter(([n, v]) => v !== first[n]).map(([n, v]) => n + ":" + v).join(","); });
    const later = window.requestIdleCallback || (f => setTimeout(f, 300));
    later(() => fetch(levers.dataset.slopes + location.search).then(r => r.ok ? r.json() : null).then(s => { slopes = s; levers.dataset.ready = "1"; }));
  };
  bind();
  /* live: an open page follows the job without being loaded again; what is being entered stays */
  let dirty = false, state = null, current = null;
  document.addEventListener("input", e => { if (e.target.closest("form[data-keep]")) dirty = true; });
  const follow = async (revision, was) => {
    if (dirty) { $("#news").textContent = "The job was changed by somebody else meanwhile. What you are entering is kept; a clash is shown when you save."; return; }
    const mine = "@" + document.body.dataset.revision, now = "@" + revision;
    const there = was && document.body.dataset.revision === was && revision !== was ? location.href.replace(mine, now) : location.href;
    const got = await fetch(there);
    const box = new DOMParser().parseFromString(await got.text(), "text/html");
    if (!got.ok || !box.querySelector("#main")) return;
    for (const q of ["#main", "#stamp", ".asks"]) { const a = $(q), b = box.querySelector(q); if (a && b) a.replaceWith(b); }
    const h = box.querySelector("#answer"); if (h && h.textContent !== $("#answer").textContent) $("#answer").innerHTML = h.innerHTML;
    if (window.htmx) htmx.process($("#main"));
    document.body.dataset.revision = box.body.dataset.revision;
    if (there !== location.href) history.replaceState(null, "", there);
    bind();
    $("#news").textContent = "The job has changed; this page shows it as it is now.";
  };
  if (window.EventSource && document.body.dataset.liner) {
    const live = new EventSource("/live");
    live.addEventListener("state", e => { const s = JSON.parse(e.data); const was = current; current = s.revision; if (state !== null && s.state !== state) follow(s.revision, was); state = s.state; });
    addEventListener("pagehide", () => live.close());
  }
  /* single keys; they can be switched off */
  const off = () => localStorage.getItem("hw-keys") === "off";
  const keys = $("[data-keys]");
  const say = text => { $("#news").textContent = text; };
  if (keys) keys.addEventListener("click", () => {
    localStorage.setItem("hw-keys", off() ? "on" : "off");
    say(off() ? "Single keys are off." : "/ find, 1 to 0 the questions, [ ] step, w working, f next finding, p print, t theme. This button switches them off.");
  });
  const step = way => {
    const ops = all(".op, .f"), at = ops.findIndex(o => o.getBoundingClientRect().top > 60);
    const next = ops[Math.max(0, Math.min(ops.length - 1, (at < 0 ? ops.length : at) + (way > 0 ? 1 : -1) - (way > 0 ? 1 : 0)))];
    if (next) { next.tabIndex = -1; next.focus(); next.scrollIntoView({ block: "start" }); }
  };
  document.addEventListener("keydown", e => {
    if (off() || e.ctrlKey || e.metaKey || e.altKey || /input|textarea|select/i.test(e.target.tagName)) return;
    const asks = all(".asks > a"), n = "1234567890".indexOf(e.key);
    if (n >= 0 && asks[n]) asks[n].click();
    else if (e.key === "/") { e.preventDefault(); $("#find").focus(); }
    else if (e.key === "[" || e.key === "]") step(e.key === "]" ? 1 : -1);
    else if (e.key === "w" && document.activeElement.matches(".fg")) document.activeElement.click();
    else if (e.key === "f") { const fs = all(".f"), i = fs.indexOf(document.activeElement); const x = fs[(i + 1) % fs.length]; if (x) { x.tabIndex = -1; x.focus(); } }
    else if (e.key === "p") print();
    else if (e.key === "t") theme();
    else if (e.key === "?") keys && keys.click();
  });
  const theme = () => {
    const now = document.documentElement.dataset.theme || "", order = ["", "light", "dark", "contrast"];
    const next = order[(order.indexOf(now) + 1) % order.length];
    document.cookie = "hw-theme=" + next + ";path=/;max-age=31536000;samesite=strict";
    if (next) document.documentElement.dataset.theme = next; else delete document.documentElement.dataset.theme;
    say("Theme: " + (next || "as the system") + ".");
  };
  /* a figure's working opens in the margin; its address stays a link */
  document.addEventListener("click", e => {
    const a = e.target.closest && e.target.closest("a.fg");
    if (!a || !window.htmx || !$("#working") || e.ctrlKey || e.metaKey || e.shiftKey || e.button) return;
    e.preventDefault();
    htmx.ajax("GET", a.getAttribute("href"), { target: "#working", select: "#working", swap: "outerHTML" });
  });
  document.addEventListener("htmx:afterSwap", () => { const w = $("#working"); if (w && w.tabIndex === -1) w.focus({ preventScroll: innerWidth > 1180 }); });
})();
