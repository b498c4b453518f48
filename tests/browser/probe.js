// Watches one picture of a lesson from inside the page. `watch(root, picture)` is called once for each picture.
// A change counts as shown in the frame after which a message posted from an animation frame arrives.
window.probe = (() => {
  const frameChannel = new MessageChannel();
  let waiting = [];
  frameChannel.port1.onmessage = () => { const due = waiting; waiting = []; due.forEach(f => f()); };
  const afterNextFrame = f => requestAnimationFrame(() => { waiting.push(f); frameChannel.port2.postMessage(0); });

  function watch(rootSelector, pictureSelector) {
    const root = document.querySelector(rootSelector);
    const handle = root.querySelector('.watched-slider .noUi-handle');
    const state = {keys: [], shown: [], values: [], removed: 0, frames: 0, bare: 0, shifts: 0, heights: [], released: 0};
    const picture = () => root.querySelector(pictureSelector);

    // ------- when a change of the picture is shown
    let counted = false;
    const show = () => { if (!counted) { counted = true; afterNextFrame(() => { counted = false; state.shown.push(performance.now()); }); } };
    const changed = () => {
      const loading = [...picture().querySelectorAll('img')].filter(image => !image.complete);
      let left = loading.length;
      if (!left) { show(); return; }
      for (const image of loading) for (const event of ['load', 'error'])
        image.addEventListener(event, () => { left -= 1; if (left === 0) show(); }, {once: true});
    };
    new MutationObserver(records => {
      const inPicture = records.filter(r => picture() && picture().contains(r.target));
      if (inPicture.length) changed();
      // the still page may be replaced on purpose, but never removed without a successor in the same change
      for (const record of records) for (const node of record.removedNodes) {
        if (node.nodeType !== 1) continue;
        const lost = node.matches('img, .gypsumkit-picture') || node.querySelector('img, .gypsumkit-picture');
        if (lost) state.removed += 1;
      }
    }).observe(root, {subtree: true, childList: true, characterData: true, attributes: true, attributeFilter: ['src']});

    // ------- what the reader's hand does
    root.addEventListener('keydown', event => state.keys.push(performance.now()), true);
    new MutationObserver(() => state.values.push([performance.now(), +handle.getAttribute('aria-valuetext')]))
      .observe(handle, {attributes: true, attributeFilter: ['aria-valuetext']});
    window.addEventListener('pointerup', () => { state.released = performance.now(); }, true);

    // ------- what every frame holds
    const images = () => [...(picture() ? picture().querySelectorAll('img, svg') : [])].filter(e => !e.parentElement.closest('svg'));
    const look = () => {
      state.frames += 1;
      const all = images();
      const whole = picture() && (all.length === state.expected) && all.every(e =>
        e.getBoundingClientRect().height > 20 && (e.tagName !== 'IMG' || (e.complete && e.naturalWidth > 0)));
      if (!whole) state.bare += 1;
      state.heights.push(root.offsetHeight);
      if (state.looking) requestAnimationFrame(look);
    };
    state.look = on => { state.looking = on; if (on) requestAnimationFrame(look); };
    new PerformanceObserver(list => { for (const entry of list.getEntries()) state.shifts += entry.value; })
      .observe({type: 'layout-shift', buffered: false});

    state.clear = () => { for (const list of [state.keys, state.shown, state.values, state.heights]) list.length = 0;
      state.removed = state.frames = state.bare = state.shifts = state.released = 0; state.expected = images().length;
      state.start = performance.now(); };
    // resolves once something was shown and then nothing for `quiet` ms, or after `limit` ms
    state.settled = (quiet, limit, least) => new Promise(resolve => {
      const begun = performance.now();
      const check = () => { const now = performance.now(), last = state.shown.length ? state.shown[state.shown.length - 1] : begun;
        if ((state.shown.length >= least && now - last > quiet) || now - begun > limit) resolve(state.shown.length); else setTimeout(check, 5); };
      check(); });
    state.clear();
    state.root = root; state.handle = handle; state.picture = picture; state.images = images;
    return state;
  }
  return {watch, of: {}};
})();
