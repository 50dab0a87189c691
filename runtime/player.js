// Shows a figure step by step. Needs step.js before it and the strip's height.
// Next: right arrow, page down, space, enter, click, tap, swipe left. Back: left arrow, page up, swipe right. Home, end.
// Never moves a thing of the figure, never reads or sends anything.
(function () {
'use strict';
var svg = document.documentElement, space = 'http://www.w3.org/2000/svg';
// Pasted into a page, the figure stays finished and the page's keys stay the page's.
if (svg.localName !== 'svg') return;
addEventListener('hashchange', function () { location.reload(); });
// A fragment that names a part (#step2, #play) is the style sheet's business.
var asked = location.hash.slice(1);
try { asked = decodeURIComponent(asked); } catch (e) { asked = ''; }
if (asked && document.getElementById(asked)) return;

function make(kind, attributes, inside) {
    var node = document.createElementNS(space, kind);
    Object.keys(attributes).forEach(function (key) { node.setAttribute(key, attributes[key]); });
    return inside.appendChild(node);
}
var steps = sagittaSteps(svg), stages = steps.stages, last = steps.last, at = 0;
var box = svg.getAttribute('viewBox').split(' ').map(Number), wide = box[2], high = box[3];
var strip = Number(svg.getAttribute('data-strip'));

// The figure keeps its own place; the strip is added below. In print the two stay at true size.
svg.setAttribute('viewBox', [0, 0, wide, high + strip].join(' '));
svg.setAttribute('height', high + strip + 'mm');
steps.begin();
// A text of the figure's language, its values filled in.
function said(name, values) {
    return svg.getAttribute('data-' + name).replace(/{(\w+)}/g, function (hole, key) { return values[key]; });
}
var live = make('g', { role: 'status', 'aria-live': 'polite' }, svg);
var words = make('text', { y: high + strip, 'font-size': 1, 'fill-opacity': 0, 'pointer-events': 'none', style: 'user-select:none' }, live);

// A quiet count: one short bar a step along the upper edge of the strip, dark as far as the steps have come.
var left = 6, pitch = Math.min(6, (wide - 2 * left) / last), bars = [];
var count = make('g', { 'class': 'count', 'aria-hidden': 'true' }, svg);
for (var k = 0; k < last; k++) {
    bars.push(make('rect', { x: left + pitch * k, y: high + 0.4, width: pitch * 0.8, height: 0.5 }, count));
}

function show(stage, draw) {
    at = stage;
    steps.show(stage, draw);
    bars.forEach(function (bar, k) { bar.classList.toggle('on', stages[stage].step > k); });
}
function go(to) {
    to = Math.max(0, Math.min(stages.length - 1, to));
    if (to === at) return;
    var step = stages[to].step, question = stages[to].question;
    show(to, to === at + 1 && !question);
    words.textContent = question ? said('question', { step: step + 1, question: steps.asked(to) })
        : said(steps.told(step) ? 'told' : 'step-of', { step: step, last: last, caption: steps.told(step) });
}
var keys = {
    ArrowRight: 1, PageDown: 1, ' ': 1, Enter: 1,
    ArrowLeft: -1, PageUp: -1, Home: -Infinity, End: Infinity
};
addEventListener('keydown', function (event) {
    var by = keys[event.key];
    if (!by || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    if (!event.repeat) go(at + (event.shiftKey && event.key === ' ' ? -1 : by));
});

var from = null, swiped = false;
addEventListener('pointerdown', function (event) {
    swiped = false;
    from = event.pointerType === 'mouse' || !event.isPrimary ? null : event;
});
addEventListener('pointerup', function (event) {
    if (!from || event.pointerId !== from.pointerId) return;
    var across = event.clientX - from.clientX, down = event.clientY - from.clientY;
    from = null;
    if (Math.abs(across) < 40 || Math.abs(across) < 2 * Math.abs(down)) return;
    swiped = true;
    go(at + (across < 0 ? 1 : -1));
});
addEventListener('click', function (event) {
    // A drag that marked words to copy is no request for the next step.
    if (swiped || event.button !== 0 || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey) return;
    if (String(getSelection())) return;
    go(at + 1);
});
show(0, false);
})();
