/**
 * The script of the planner's page: it moves the map, tells meanings, measures and searches. It is text, and the same text
 * wherever the page is made; a test checks it with the linter. It writes users' words with `textContent` and nothing else.
 */
export const PAGE_SCRIPT: string = `'use strict';
(() => {
  const byId = (id) => document.getElementById(id);
  const map = byId('map');
  const svg = map.querySelector('svg');
  const ground = svg.querySelector('.ground');
  const meaning = byId('meaning');
  // The names of zones, in bold, before those of lines.
  const names = [...ground.querySelectorAll('.upright text')].sort((p, q) => Number(q.hasAttribute('font-weight')) - Number(p.hasAttribute('font-weight')));
  const [, , width0, height0] = svg.getAttribute('viewBox').split(' ').map(Number);
  const pxPerM = Number(map.dataset.pxPerM);
  const withinM = Number(map.dataset.withinM);
  const NS = 'http://www.w3.org/2000/svg';
  const LEAST = 0.2;
  const MOST = 60;
  const view = { zoom: 1, x: width0 / 2, y: height0 / 2 };
  let fit = 1;
  let measuring = null;
  let partedAt = 0;

  const size = () => [map.clientWidth || 1, map.clientHeight || 1];
  const scale = () => fit * view.zoom;

  function draw() {
    const [width, height] = size();
    svg.setAttribute('viewBox', '0 0 ' + width + ' ' + height);
    fit = Math.min(width / width0, height / height0);
    const k = scale();
    ground.setAttribute('transform', 'translate(' + (width / 2 - view.x * k) + ' ' + (height / 2 - view.y * k) + ') scale(' + k + ')');
    ground.style.setProperty('--upright', String(1 / k));
    for (const hatch of svg.querySelectorAll('.hatch')) hatch.setAttribute('patternTransform', 'scale(' + 1 / k + ')');
    const paper = svg.querySelector('.paper');
    paper.setAttribute('width', width);
    paper.setAttribute('height', height);
    svg.querySelector('.scale').setAttribute('transform', 'translate(12 ' + (height - 12) + ')');
    svg.querySelector('.north').setAttribute('transform', 'translate(' + (width - 24) + ' 12)');
    drawGrid(width, height, k);
    if (k !== partedAt) partNames();
    partedAt = k;
  }

  // Of names that would lie over each other the first is shown; nearer, all of them.
  function partNames() {
    const shown = [];
    for (const name of names) {
      const box = name.getBoundingClientRect();
      const isFree = shown.every(
        (other) => box.right < other.left || box.left > other.right || box.bottom < other.top || box.top > other.bottom,
      );
      name.classList.toggle('crowded', !isFree);
      if (isFree && box.width > 0) shown.push(box);
    }
  }

  function drawGrid(width, height, k) {
    const raw = 110 / (k * pxPerM);
    const power = 10 ** Math.floor(Math.log10(raw));
    const stepM = ([1, 2, 5].find((lead) => lead * power >= raw * 0.7) ?? 10) * power;
    const step = stepM * pxPerM;
    const [left, right] = [view.x - width / 2 / k, view.x + width / 2 / k];
    const [top, bottom] = [view.y - height / 2 / k, view.y + height / 2 / k];
    const lines = [];
    for (let i = Math.ceil((left - width0 / 2) / step); width0 / 2 + i * step < right; i += 1)
      lines.push('M' + (width0 / 2 + i * step) + ' ' + top + 'V' + bottom);
    for (let i = Math.ceil((top - height0 / 2) / step); height0 / 2 + i * step < bottom; i += 1)
      lines.push('M' + left + ' ' + (height0 / 2 + i * step) + 'H' + right);
    svg.querySelector('.grid').setAttribute('d', lines.join(''));
    svg.querySelector('.scale-bar').setAttribute('d', 'M0 -6V0H' + step * k + 'V-6');
    svg.querySelector('.scale text').textContent = Number(stepM.toPrecision(6)) + ' m, one square';
  }

  const toGround = (clientX, clientY) => {
    const box = map.getBoundingClientRect();
    const [width, height] = size();
    const k = scale();
    return [view.x + (clientX - box.left - map.clientLeft - width / 2) / k, view.y + (clientY - box.top - map.clientTop - height / 2) / k];
  };

  function zoomBy(factor, clientX, clientY) {
    const [x, y] = toGround(clientX, clientY);
    const before = view.zoom;
    view.zoom = Math.min(MOST, Math.max(LEAST, before * factor));
    const kept = before / view.zoom;
    view.x = x + (view.x - x) * kept;
    view.y = y + (view.y - y) * kept;
    draw();
  }

  const middle = () => {
    const box = map.getBoundingClientRect();
    return [box.left + box.width / 2, box.top + box.height / 2];
  };

  function whole() {
    Object.assign(view, { zoom: 1, x: width0 / 2, y: height0 / 2 });
    draw();
  }

  const wordsOf = (element) => element.querySelector('title')?.textContent ?? '';

  function tell(element) {
    for (const asked of svg.querySelectorAll('.asked')) asked.classList.remove('asked');
    meaning.replaceChildren();
    if (!element) return;
    element.classList.add('asked');
    const words = document.createElement('p');
    words.textContent = wordsOf(element);
    const close = document.createElement('button');
    close.type = 'button';
    close.textContent = 'Close';
    close.addEventListener('click', () => {
      tell(null);
      map.focus({ preventScroll: true });
    });
    meaning.append(words, close);
    meaning.scrollIntoView({ block: 'nearest' });
  }

  // A thin line is hard to hit: what lies some px beside is asked too.
  const AROUND = [0, 5, 9].flatMap((far) =>
    far === 0 ? [[0, 0]] : [0, 1, 2, 3, 4, 5, 6, 7].map((turn) => [far * Math.cos((turn * Math.PI) / 4), far * Math.sin((turn * Math.PI) / 4)]),
  );
  // Zones and features are asked before the corridors and lines under them.
  const ORDER = ['features', 'zones', 'segments', 'lines', 'setbacks', 'corridors'];
  const rank = (element) => ORDER.findIndex((layer) => element.closest('.layer-' + layer));

  function under(clientX, clientY) {
    const found = new Set();
    for (const [dx, dy] of AROUND) {
      for (const each of document.elementsFromPoint(clientX + dx, clientY + dy)) {
        const ask = each.closest?.('[data-ask]');
        if (ask && map.contains(ask)) found.add(ask);
      }
      if (found.size > 0) break;
    }
    return [...found].sort((p, q) => rank(p) - rank(q))[0] ?? null;
  }

  function say(text) {
    meaning.replaceChildren();
    const words = document.createElement('p');
    words.textContent = text;
    meaning.append(words);
  }

  function press(clientX, clientY) {
    if (measuring) addPoint(toGround(clientX, clientY));
    else {
      const found = under(clientX, clientY);
      if (found) tell(found);
      else {
        tell(null);
        say('Nothing is drawn here. Ground outside the corridors is not surveyed, never safe.');
      }
    }
  }

  function addPoint(point) {
    measuring.push(point);
    let path = byId('measured-path');
    if (!path) {
      path = document.createElementNS(NS, 'path');
      path.id = 'measured-path';
      path.setAttribute('vector-effect', 'non-scaling-stroke');
      path.setAttribute('pointer-events', 'none');
      ground.append(path);
    }
    const dot = 3 / scale();
    path.setAttribute('d', measuring.map(([x, y], i) => (i ? 'L' : 'M') + x + ' ' + y).join('') + measuring.map(([x, y]) => 'M' + (x - dot) + ' ' + y + 'h' + 2 * dot).join(''));
    let px = 0;
    for (let i = 1; i < measuring.length; i += 1)
      px += Math.hypot(measuring[i][0] - measuring[i - 1][0], measuring[i][1] - measuring[i - 1][1]);
    if (measuring.length < 2) {
      say('First point set. Set the next one.');
      return;
    }
    const lengthM = px / pxPerM;
    const handM = 3 / (scale() * pxPerM);
    const errorM = Math.SQRT2 * Math.hypot(withinM, handM);
    say('Measured: ' + lengthM.toFixed(lengthM < 100 ? 1 : 0) + ' m on the flat, good to about ± ' + errorM.toFixed(1) + ' m (95 %): the places of the survey and your hand on the map. Slope is not counted.');
  }

  function setMeasuring(on) {
    measuring = on ? [] : null;
    byId('measure').setAttribute('aria-pressed', String(on));
    byId('measured-path')?.remove();
    tell(null);
    if (on) say('Set points on the map by clicks, or with Enter at the cross. Press Measure again to end.');
  }

  const pointers = new Map();
  let moved = 0;
  map.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    if (pointers.size === 0) moved = 0;
    pointers.set(event.pointerId, [event.clientX, event.clientY]);
    map.setPointerCapture(event.pointerId);
  });
  map.addEventListener('pointermove', (event) => {
    const before = pointers.get(event.pointerId);
    if (!before) return;
    const now = [event.clientX, event.clientY];
    const k = scale();
    if (pointers.size === 1) {
      moved += Math.hypot(now[0] - before[0], now[1] - before[1]);
      if (moved > 5) {
        view.x -= (now[0] - before[0]) / k;
        view.y -= (now[1] - before[1]) / k;
        draw();
      }
    } else {
      moved = 99;
      const other = [...pointers].find(([id]) => id !== event.pointerId)?.[1];
      const far = (p) => Math.hypot(p[0] - other[0], p[1] - other[1]) || 1;
      view.x -= (now[0] - before[0]) / 2 / k;
      view.y -= (now[1] - before[1]) / 2 / k;
      zoomBy(far(now) / far(before), (now[0] + other[0]) / 2, (now[1] + other[1]) / 2);
    }
    pointers.set(event.pointerId, now);
  });
  const lift = (event) => {
    if (!pointers.delete(event.pointerId)) return;
    if (event.type === 'pointerup' && pointers.size === 0 && moved <= 5) press(event.clientX, event.clientY);
  };
  map.addEventListener('pointerup', lift);
  map.addEventListener('pointercancel', lift);
  map.addEventListener(
    'wheel',
    (event) => {
      if (!event.ctrlKey && !map.contains(document.activeElement)) return;
      event.preventDefault();
      zoomBy(Math.exp(-Math.max(-200, Math.min(200, event.deltaY)) / 400), event.clientX, event.clientY);
    },
    { passive: false },
  );

  const MOVES = { ArrowLeft: [-60, 0], ArrowRight: [60, 0], ArrowUp: [0, -60], ArrowDown: [0, 60] };
  map.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const move = MOVES[event.key];
    const asked = event.target.closest('[data-ask]');
    if (move) {
      view.x += move[0] / scale();
      view.y += move[1] / scale();
      draw();
    } else if (event.key === '+' || event.key === '=') zoomBy(1.4, ...middle());
    else if (event.key === '-') zoomBy(1 / 1.4, ...middle());
    else if (event.key === '0') whole();
    else if (event.key === 'Enter' || event.key === ' ') {
      if (asked) tell(asked);
      else press(...middle());
    } else if (event.key === 'Escape') {
      if (measuring) setMeasuring(false);
      else tell(null);
    } else return;
    event.preventDefault();
  });

  function show(id) {
    const element = [...svg.querySelectorAll('[data-ask]')].find((each) => each.dataset.ask === id);
    if (!element) {
      say('It has no place on this map.');
      return;
    }
    const box = element.getBBox();
    view.x = box.x + box.width / 2;
    view.y = box.y + box.height / 2;
    // Its neighbours stay in sight.
    view.zoom = Math.min(8, Math.max(1, (0.25 * Math.min(width0, height0)) / Math.max(box.width, box.height, 1)));
    draw();
    map.focus({ preventScroll: true });
    map.scrollIntoView({ block: 'center' });
    tell(element);
  }
  for (const button of document.querySelectorAll('.show')) {
    button.hidden = false;
    button.addEventListener('click', () => show(button.closest('[data-about]').dataset.about));
  }

  const search = byId('zone-search');
  if (search) {
    search.closest('.search').hidden = false;
    const zones = [...document.querySelectorAll('article.zone')];
    search.addEventListener('input', () => {
      const wanted = search.value.trim().toLowerCase();
      let shown = 0;
      for (const zone of zones) {
        zone.hidden = !zone.querySelector('h3').textContent.toLowerCase().includes(wanted);
        if (!zone.hidden) shown += 1;
      }
      byId('zone-count').textContent = shown + ' of ' + zones.length;
    });
    search.addEventListener('keydown', (event) => {
      const first = zones.find((zone) => !zone.hidden);
      if (event.key === 'Enter' && first) show(first.dataset.about);
    });
  }

  svg.setAttribute('role', 'group');
  for (const zone of svg.querySelectorAll('.layer-zones [data-ask]')) {
    zone.setAttribute('tabindex', '0');
    zone.setAttribute('role', 'button');
    zone.setAttribute('aria-label', wordsOf(zone).slice(0, 80));
  }
  map.classList.add('live');
  map.tabIndex = 0;
  map.setAttribute('role', 'application');
  map.setAttribute('aria-label', 'Map. Arrow keys move it, plus and minus change its scale, Enter tells what is under the cross.');
  byId('map-tools').hidden = false;
  byId('map-help').hidden = false;
  byId('nearer').addEventListener('click', () => zoomBy(1.6, ...middle()));
  byId('farther').addEventListener('click', () => zoomBy(1 / 1.6, ...middle()));
  byId('whole').addEventListener('click', whole);
  byId('measure').addEventListener('click', () => setMeasuring(!measuring));
  window.addEventListener('resize', draw);
  draw();
})();
`;
