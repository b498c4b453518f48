// What the stage looks like, measured in the page: sizes of letters and lines, contrast, what lies outside, who has the focus.
window.stage = (() => {
  const root = () => document.querySelector('.gypsumkit-on-stage');
  const seen = e => e.checkVisibility({visibilityProperty: true}) && e.getBoundingClientRect().width > 0;
  const picture = () => [...root().querySelectorAll('svg[role=img]')].filter(seen);
  const scaleOf = svg => svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;

  const letters = () => picture().flatMap(svg => [...svg.querySelectorAll('text')].map(e => +e.getAttribute('font-size') * scaleOf(svg)));
  const ticks = () => [...root().querySelectorAll('img')].filter(seen).map(e => 14.5 * e.getBoundingClientRect().width / +e.getAttribute('width'));
  // hatching is no line: its strokes have round ends
  const lines = () => picture().flatMap(svg => [...svg.querySelectorAll('[stroke-width]:not(text):not([stroke-linecap])')]
    .map(e => +e.getAttribute('stroke-width') * scaleOf(svg)));
  const written = selector => [...root().querySelectorAll(selector)].filter(seen).filter(e => e.textContent.trim() || e.value)
    .map(e => parseFloat(getComputedStyle(e).fontSize));

  const rgb = text => { const found = text.match(/[\d.]+/g).map(Number); return found.length > 3 && found[3] < 0.99 ? null : found.slice(0, 3); };
  const luminance = colour => { const l = colour.map(c => c / 255).map(c => c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
    return 0.2126 * l[0] + 0.7152 * l[1] + 0.0722 * l[2]; };
  const contrast = (one, other) => { const [a, b] = [luminance(one), luminance(other)].sort((x, y) => y - x); return (a + 0.05) / (b + 0.05); };
  const ground = e => { for (let p = e; p; p = p.parentElement) { const c = rgb(getComputedStyle(p).backgroundColor); if (c) return c; } return [255, 255, 255]; };
  const paper = () => ground(root());
  const textContrasts = () => {
    const found = [];
    const walker = document.createTreeWalker(root(), NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const e = node.parentElement;
      if (!node.nodeValue.trim() || e.closest('style, svg, option') || !seen(e)) continue;
      found.push([contrast(rgb(getComputedStyle(e).color), ground(e)), node.nodeValue.trim().slice(0, 40)]);
    }
    for (const e of root().querySelectorAll('input, select')) if (seen(e)) {
      found.push([contrast(rgb(getComputedStyle(e).color), ground(e)), e.tagName]);
      if (e.placeholder) found.push([contrast(rgb(getComputedStyle(e, '::placeholder').color), ground(e)), 'placeholder ' + e.placeholder]);
    }
    for (const svg of picture()) for (const e of svg.querySelectorAll('text')) found.push([contrast(rgb(getComputedStyle(e).fill), ground(svg)), e.textContent]);
    return found;
  };
  const lineContrasts = () => [...picture().flatMap(svg => [...svg.querySelectorAll('[stroke]:not(text)')]
      .map(e => [contrast(rgb(getComputedStyle(e).stroke), ground(svg)), 'line ' + e.getAttribute('stroke')])),
    ...[...root().querySelectorAll('button, input:not([type=checkbox]), select')].filter(seen)
      .map(e => [contrast(rgb(getComputedStyle(e).borderTopColor), ground(e.parentElement)), 'edge of ' + (e.innerText || e.tagName)])];

  const controls = () => [...root().querySelectorAll('button, input, select, [tabindex="0"]')].filter(seen);
  const outside = () => controls().concat(picture()).filter(e => { const r = e.getBoundingClientRect(); return r.left < -1 || r.right > innerWidth + 1; })
    .map(e => e.outerHTML.slice(0, 80));
  const overlapping = () => { const all = controls().filter(e => !e.matches('.gypsumkit-stage-scroll, .noUi-handle')), found = [];
    all.forEach((a, i) => all.slice(i + 1).forEach(b => { const p = a.getBoundingClientRect(), q = b.getBoundingClientRect();
      if (Math.min(p.right, q.right) - Math.max(p.left, q.left) > 2 && Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top) > 2)
        found.push([a.outerHTML.slice(0, 60), b.outerHTML.slice(0, 60)]); }));
    return found; };
  const number = e => { e.dataset.number = e.dataset.number || String(stage.counted++); return e.dataset.number; };
  const focus = () => { const e = document.activeElement, s = getComputedStyle(e);
    return {inside: root().contains(e), number: number(e), outline: parseFloat(s.outlineWidth), style: s.outlineStyle, what: e.innerText || e.tagName + ' ' + e.className,
            contrast: contrast(rgb(s.outlineColor) || paper(), paper())}; };
  return {counted: 1, root, picture, letters, ticks, lines, written, textContrasts, lineContrasts, controls, outside, overlapping, focus, number,
          numbers: () => controls().map(number)};
})();
