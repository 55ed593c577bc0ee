"use strict";
/* A tool as a solid, turned by hand or by the arrow keys. Where the machine cannot draw solids the section above stands. */
(() => {
  for (const box of document.querySelectorAll("[data-solid]")) {
    const canvas = box.querySelector("canvas"), said = box.querySelector("p");
    const style = n => getComputedStyle(document.documentElement).getPropertyValue(n).trim();
    const start = async () => {
      const T = Solid3D;
      let view;
      try { view = new T.WebGLRenderer({ canvas, antialias: true, alpha: true }); } catch (e) { said.textContent = "This machine cannot draw solids; the sections above show the tool."; canvas.remove(); return; }
      const got = await fetch(box.dataset.solid);
      if (!got.ok) { said.textContent = "The solid is not to be had here: the extra `cad` is not installed. The sections above show the tool."; canvas.remove(); return; }
      const model = (await new T.GLTFLoader().parseAsync(await got.arrayBuffer(), "")).scene;
      const scene = new T.Scene(), eye = new T.PerspectiveCamera(35, 1.6, 0.001, 100);
      const metal = new T.MeshStandardMaterial({ color: new T.Color("#9AA7AC"), metalness: 0.25, roughness: 0.55 });
      model.traverse(o => { if (o.isMesh) { o.material = metal; o.add(new T.LineSegments(new T.EdgesGeometry(o.geometry, 30), new T.LineBasicMaterial({ color: new T.Color(style("--ink")) }))); } });
      const span = new T.Box3().setFromObject(model), size = span.getSize(new T.Vector3()).length(), mid = span.getCenter(new T.Vector3());
      model.position.sub(mid); scene.add(model, new T.HemisphereLight("#FFFFFF", "#7C878C", 1.6));
      const lamp = new T.DirectionalLight("#FFFFFF", 1.8); lamp.position.set(1, 2, 1.5); scene.add(lamp);
      eye.near = size / 200; eye.far = size * 10; eye.position.set(size * 0.7, size * 0.55, size * 0.9);
      const hand = new T.OrbitControls(eye, canvas); hand.enableDamping = false; hand.listenToKeyEvents(canvas);
      const draw = () => { const w = canvas.clientWidth, h = canvas.clientHeight; view.setPixelRatio(Math.min(devicePixelRatio, 2)); view.setSize(w, h, false); eye.aspect = w / h; eye.updateProjectionMatrix(); view.render(scene, eye); };
      hand.addEventListener("change", draw); addEventListener("resize", draw);
      canvas.addEventListener("keydown", e => {
        const a = { ArrowLeft: [0.15, 0], ArrowRight: [-0.15, 0], ArrowUp: [0, -0.12], ArrowDown: [0, 0.12] }[e.key], z = { "+": 0.85, "=": 0.85, "-": 1.18 }[e.key];
        if (!a && !z) return;
        e.preventDefault();
        const p = eye.position, r = p.length(); let t = Math.atan2(p.x, p.z), f = Math.acos(p.y / r);
        if (a) { t += a[0]; f = Math.min(3.0, Math.max(0.1, f + a[1])); }
        const R = z ? r * z : r;
        p.set(R * Math.sin(f) * Math.sin(t), R * Math.cos(f), R * Math.sin(f) * Math.cos(t)); eye.lookAt(0, 0, 0); draw();
      });
      draw(); said.textContent = "Turn it by hand or with the arrow keys; + and \u2212 come nearer or go away."; box.dataset.ready = "1";
    };
    new IntersectionObserver((es, o) => { if (es.some(e => e.isIntersecting)) { o.disconnect(); start(); } }).observe(box);
  }
})();
