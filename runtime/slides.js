// The page of slides: one drawing at a time, step by step. Needs step.js before it, and the page as output/slides.c writes it.
// Never reads or sends anything but the number of its step to a second window that it opened itself.
(function () {
'use strict';
var root = document.documentElement, text = document.body.dataset;
function get(id) { return document.getElementById(id); }
function fill(words, holes) { return words.replace(/\{(\w+)\}/g, function (all, hole) { return hole in holes ? holes[hole] : all; }); }
function make(kind, words, inside) {
    var node = document.createElement(kind);
    node.textContent = words;
    return inside.appendChild(node);
}
var slides = Array.prototype.map.call(document.querySelectorAll('.slide'), function (section) {
    var drawing = section.querySelector('.drawing'), steps = sagittaSteps(drawing);
    steps.begin();
    return {
        section: section, drawing: drawing, steps: steps, stages: steps.stages, title: section.querySelector('h2').textContent,
        desc: drawing.querySelector(':scope>desc'), items: Array.prototype.slice.call(section.querySelectorAll('.captions>li'))
    };
});
var slide = 0, stage = 0, clock = null, timer = null, began = 0, blank = false, forced = '', second = null;
// A window that another page of slides opened follows it and leads it.
var first = window.name === 'sagittaslides' ? window.opener : null;
if (!slides.length) return;
root.classList.add('js');

// ---- what a stage is called ----
function named(s, k) {
    var what = slides[s].stages[k];
    return what.question ? fill(text.question, { step: what.step + 1 }) : what.step === 0 ? text.given : fill(text.step, { step: what.step });
}
function told(s, k) {
    var what = slides[s].stages[k], steps = slides[s].steps;
    return what.question ? steps.asked(k) : what.step === 0 ? '' : steps.told(what.step);
}
function spoken(s, k) {
    var what = slides[s].stages[k], words = told(s, k);
    if (what.question) return fill(text.saidAsk, { step: what.step + 1, caption: words });
    return what.step === 0 ? text.saidGiven : fill(text.saidStep, { step: what.step, steps: slides[s].steps.last, caption: words });
}
function counted() {
    var what = slides[slide].stages[stage];
    if (!slides[slide].steps.last) return fill(text.countOne, { slide: slide + 1, slides: slides.length });
    return fill(what.question ? text.countAsk : text.count,
        { slide: slide + 1, slides: slides.length, step: what.step + (what.question ? 1 : 0), steps: slides[slide].steps.last });
}

// ---- showing ----
function listCaptions(now) {
    var what = now.stages[stage];
    now.items.forEach(function (item, k) { item.classList.toggle('later', k + 1 > what.step); });
}
function fragment() {
    var what = slides[slide].stages[stage];
    try { history.replaceState(null, '', '#' + (slide + 1) + '.' + (what.step + (what.question ? 1 : 0)) + (what.question ? 'ask' : '')); } catch (e) { /* not allowed here: the place is forgotten */ }
}
function show(s, k, draw) {
    var now = slides[s];
    slides.forEach(function (other) { other.section.classList.toggle('seen', other === now); });
    slide = s;
    stage = k;
    now.steps.show(k, draw);
    listCaptions(now);
    // The description tells the end, so it comes with the end.
    if (now.desc && k === now.stages.length - 1) now.drawing.setAttribute('aria-describedby', now.desc.id);
    else now.drawing.removeAttribute('aria-describedby');
    get('count').textContent = counted();
    ground(forced);
    fragment();
    lecture();
}
function go(s, k, quiet) {
    s = Math.max(0, Math.min(slides.length - 1, s));
    k = Math.max(0, Math.min(slides[s].stages.length - 1, k));
    if (blank) cover(false);
    if (s === slide && k === stage) return;
    var on = s === slide && k === stage + 1 && !slides[s].stages[k].question;
    var words = (s === slide ? '' : fill(text.saidSlide, { slide: s + 1, slides: slides.length, title: slides[s].title }) + ' ') + spoken(s, k);
    show(s, k, on);
    get('said').textContent = words;
    if (!quiet) send();
}
function next() {
    if (stage + 1 < slides[slide].stages.length) go(slide, stage + 1);
    else if (slide + 1 < slides.length) go(slide + 1, 0);
    else return false;
    return true;
}
function back() {
    if (stage > 0) go(slide, stage - 1);
    else if (slide > 0) go(slide - 1, slides[slide - 1].stages.length - 1);
}
function replay() {
    var group = slides[slide].drawing.querySelector('.now');
    if (group) group.classList.remove('now');
    slides[slide].drawing.getBoundingClientRect();
    slides[slide].steps.show(stage, true);
    get('said').textContent = '';
    get('said').textContent = spoken(slide, stage);
}
function cover(on, quiet) {
    blank = on;
    // In the lectern only the second window goes blank.
    root.classList.toggle('blank', on && !(second && !second.closed));
    get('blank').setAttribute('aria-pressed', on);
    get('said').textContent = on ? text.saidBlank : text.saidSeen;
    if (!quiet) send();
}
// What the slide is drawn on, unless all are light or all dark; an author's own colours never turn.
function isDark() {
    var own = slides[slide].section.classList;
    return own.contains('ondark') ? !root.classList.contains('alllight') : own.contains('onlight') && root.classList.contains('alldark');
}
function ground(all) {
    root.classList.toggle('alldark', all === 'dark');
    root.classList.toggle('alllight', all === 'light');
    root.classList.toggle('dark', isDark());
    get('dark').setAttribute('aria-pressed', isDark());
    forced = all;
}
// 3 or 3.2 or 3.2ask; false when there is no such place.
function goTo(place, quiet) {
    var parts = /^\s*(\d+)(?:[.,](\d+)(ask)?)?\s*$/.exec(place), s = parts ? Number(parts[1]) - 1 : -1;
    if (s < 0 || s >= slides.length) return false;
    var step = Number(parts[2] || 0), ask = Boolean(parts[3]), found = -1;
    slides[s].stages.forEach(function (what, k) { if (ask === Boolean(what.question) && what.step === step - (ask ? 1 : 0)) found = k; });
    if (found < 0) return false;
    go(s, found, quiet);
    return true;
}

// ---- copies: all steps at a glance, what comes next, pages of paper ----
function copy(s, k) {
    var drawing = slides[s].drawing.cloneNode(true);
    ['role', 'aria-labelledby', 'aria-describedby'].forEach(function (name) { drawing.removeAttribute(name); });
    // With the colours of its slide.
    drawing.setAttribute('class', slides[s].section.className.replace(/slide|seen/g, '') + ' still');
    drawing.setAttribute('style', slides[s].section.getAttribute('style'));
    drawing.setAttribute('aria-hidden', 'true');
    // The letters' outlines are those of the drawing itself.
    drawing.querySelectorAll('defs,clipPath,title').forEach(function (node) { node.remove(); });
    sagittaSteps(drawing).show(k, false);
    drawing.querySelectorAll('[id]').forEach(function (node) { node.removeAttribute('id'); });
    drawing.removeAttribute('id');
    return drawing;
}
function glance() {
    var box = get('glance'), here = null;
    box.textContent = '';
    slides.forEach(function (one, s) {
        make('h2', (s + 1) + '. ' + one.title, box);
        var list = make('ul', '', box);
        one.stages.forEach(function (what, k) {
            var button = make('button', '', make('li', '', list));
            button.type = 'button';
            button.appendChild(copy(s, k));
            make('span', named(s, k), button);
            if (s === slide && k === stage) { button.setAttribute('aria-current', 'step'); here = button; }
            button.addEventListener('click', function () { box.close(); go(s, k); });
        });
    });
    box.showModal();
    if (here) here.focus();
}
function lecture() {
    var on = root.classList.contains('lecture'), s = slide, k = stage + 1, what = slides[slide].stages[stage];
    get('notes').hidden = !on;
    if (!on) return;
    if (k >= slides[s].stages.length) { s++; k = 0; }
    var item = slides[slide].items[what.step - 1 + (what.question ? 1 : 0)];
    get('nowcaption').textContent = named(slide, stage) + (told(slide, stage) ? ': ' + told(slide, stage) : '');
    get('tosay').textContent = item && item.dataset.say ? item.dataset.say : text.sayNone;
    get('follows').textContent = '';
    if (s < slides.length) get('follows').appendChild(copy(s, k));
    get('followscaption').textContent = s >= slides.length ? text.end
        : (s === slide ? '' : slides[s].title + '. ') + named(s, k) + (told(s, k) ? ': ' + told(s, k) : '');
}
function lectern() {
    get('lectern').setAttribute('aria-pressed', root.classList.toggle('lecture'));
    lecture();
}
function paper() {
    var box = get('paper');
    box.textContent = '';
    root.classList.toggle('bystep', get('printsteps').checked);
    if (!get('printsteps').checked) return;
    slides.forEach(function (one, s) {
        one.stages.forEach(function (what, k) {
            var page = make('section', '', box);
            make('h2', one.title + ' \u2013 ' + named(s, k), page);
            page.appendChild(copy(s, k));
        });
    });
}

// ---- clocks ----
function timed(on) {
    clearInterval(clock);
    clock = on ? setInterval(function () { if (!next()) timed(false); }, 1000 * Math.max(2, Number(get('seconds').value) || 8)) : null;
    get('play').setAttribute('aria-pressed', on);
    get('said').textContent = on ? text.saidTimed : text.saidTimedEnd;
}
function tick() {
    var s = Math.floor((Date.now() - began) / 1000);
    get('time').textContent = Math.floor(s / 60) + ':' + ('0' + s % 60).slice(-2);
}
function time() {
    var on = timer === null;
    clearInterval(timer);
    timer = null;
    if (on) { began = Date.now(); tick(); timer = setInterval(tick, 1000); }
    get('clock').textContent = on ? text.clockStop : text.clockStart;
}

// ---- a second window ----
function peer() { return first || (second && !second.closed ? second : null); }
function send() {
    var to = peer();
    if (to) to.postMessage({ sagitta: 'slides', slide: slide, stage: stage, blank: blank, ground: forced }, '*');
}
addEventListener('message', function (event) {
    var said = event.data;
    if (!peer() || event.source !== peer() || !said || said.sagitta !== 'slides') return;
    if (said.asks) { send(); return; }
    if (!Number.isInteger(said.slide) || !Number.isInteger(said.stage)) return;
    go(said.slide, said.stage, true);
    ground(said.ground === 'dark' || said.ground === 'light' ? said.ground : '');
    if (Boolean(said.blank) !== blank) cover(Boolean(said.blank), true);
});
function openSecond() {
    second = window.open(location.href, 'sagittaslides', 'popup,width=960,height=540');
    get('secondsaid').textContent = second ? text.secondWindowOpen : text.secondWindowBlocked;
}

// ---- hands ----
var hands = {
    back: back,
    next: next,
    replay: replay,
    overview: glance,
    lectern: lectern,
    play: function () { timed(clock === null); },
    blank: function () { cover(!blank); },
    dark: function () { ground(isDark() ? 'light' : 'dark'); send(); },
    full: function () {
        if (document.fullscreenElement) document.exitFullscreen();
        else if (root.requestFullscreen) root.requestFullscreen().catch(function () {});
    },
    keys: function () { get('help').showModal(); },
    print: function () { get('help').close(); print(); },
    closehelp: function () { get('help').close(); },
    clock: time,
    second: openSecond
};
// Whoever takes a step by hand wants the clock to wait.
function act(hand) {
    if (clock !== null && hand !== hands.play) timed(false);
    hand();
}
Object.keys(hands).forEach(function (id) { get(id).addEventListener('click', function () { act(hands[id]); }); });
get('printwhole').addEventListener('change', paper);
get('printsteps').addEventListener('change', paper);
addEventListener('beforeprint', paper);
get('go').addEventListener('keydown', function (event) {
    if (event.key === 'Escape') { this.value = ''; this.blur(); }
    if (event.key !== 'Enter') return;
    if (goTo(this.value)) { this.value = ''; this.blur(); } else this.select();
});

var keys = {
    ArrowRight: next, PageDown: next, ' ': next, Enter: next, ArrowLeft: back, PageUp: back,
    ArrowDown: function () { go(slide + 1, slide + 1 < slides.length ? 0 : stage); },
    ArrowUp: function () { go(slide - 1, slide > 0 ? 0 : stage); },
    Home: function () { go(slide, 0); },
    End: function () { go(slide, slides[slide].stages.length - 1); },
    Escape: function () { if (blank) cover(false); }
};
var letters = {
    r: hands.replay, b: hands.blank, '.': hands.blank, a: hands.overview, l: hands.lectern, d: hands.dark, t: hands.play, f: hands.full,
    h: hands.keys, '?': hands.keys
};
addEventListener('keydown', function (event) {
    var at = event.target, field = at.matches('input,select,textarea'), pressed = at.matches('button');
    if (event.ctrlKey || event.altKey || event.metaKey || field || document.querySelector('dialog[open]')) return;
    if (pressed && (event.key === ' ' || event.key === 'Enter')) return;
    var hand = keys[event.key] || (get('letters').checked ? letters[event.key.toLowerCase()] : null);
    if (event.shiftKey && event.key === ' ') hand = back;
    if (/^\d$/.test(event.key) && get('letters').checked) hand = function () { get('go').value = ''; get('go').focus(); };
    if (!hand) return;
    // A digit goes on into the field.
    if (!/^\d$/.test(event.key)) event.preventDefault();
    if (!event.repeat) act(hand);
});
var from = null, swiped = false;
var main = document.querySelector('main');
main.addEventListener('pointerdown', function (event) {
    swiped = false;
    from = event.pointerType === 'mouse' || !event.isPrimary ? null : event;
});
main.addEventListener('pointerup', function (event) {
    if (!from || event.pointerId !== from.pointerId) return;
    var across = event.clientX - from.clientX, down = event.clientY - from.clientY;
    from = null;
    if (Math.abs(across) < 40 || Math.abs(across) < 2 * Math.abs(down)) return;
    swiped = true;
    act(across < 0 ? next : back);
});
main.addEventListener('click', function (event) {
    // A drag that marked words to copy is no request for the next step.
    if (swiped || event.button !== 0 || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey) return;
    if (String(getSelection())) return;
    act(next);
});
get('cover').addEventListener('click', function () { cover(false); });
addEventListener('hashchange', function () { goTo(decodeURI(location.hash.slice(1))); });

function measure() {
    if (!document.fullscreenElement) root.style.setProperty('--controls', get('controls').offsetHeight + 'px');
}
addEventListener('resize', measure);
measure();
var asked = location.hash.slice(1);
show(0, 0, false);
if (asked) goTo(asked, true);
get('said').textContent = '';
if (first) first.postMessage({ sagitta: 'slides', asks: true }, '*');
})();
