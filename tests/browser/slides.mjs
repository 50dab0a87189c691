// slides.mjs FOLDER: the pages of slides below it, in headless Chromium and Firefox: what is seen, said and printed at each step.
// Damaged copies must turn it red. Last line: "N passed, N failed".
import { chromium } from 'playwright-core';
import puppeteer from 'puppeteer-core';
import { createRequire } from 'node:module';
import { readFileSync, writeFileSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const folder = resolve(process.argv[2]), page_of = name => join(folder, name + '.html');
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
let passed = 0, failed = 0, quiet = false, red = 0;
function check(name, ok, more = '') {
    if (quiet) { if (!ok) red++; return; }
    if (ok) passed++;
    else { failed++; console.log(`${name}${more !== '' ? ': ' + more : ''}`); }
}

// What stages there are, from the file's text alone: a step, or the question before it.
function truth(text) {
    return text.split('<section class="slide').slice(1).map(part => {
        const steps = [...part.matchAll(/<g class="step"/g)].length, asked = [...part.matchAll(/class="question" data-step="(\d+)"/g)].map(m => Number(m[1]));
        const stages = [];
        for (let k = 0; k < steps; k++) { if (asked.includes(k)) stages.push({ step: k - 1, ask: true }); stages.push({ step: k, ask: false }); }
        // Not what is asked before it.
        const captions = [...part.matchAll(/<li[^>]*>(?:<em.*?<\/em>)?(.*?)<\/li>/g)].map(m => m[1].trim());
        const plain = t => t.replaceAll('&quot;', '"').replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&');
        return { steps, stages, captions, title: /<h2[^>]*>([^<]*)/.exec(part)[1], whole: plain(/<desc id[^>]*>([^<]*)/.exec(part)?.[1] ?? ''), given: plain(/data-given="([^"]*)"/.exec(part)?.[1] ?? '') };
    });
}

// Runs inside the page: what is seen now, by computed style and boxes.
function look() {
    const seen = e => getComputedStyle(e).display !== 'none' && getComputedStyle(e).visibility !== 'hidden' && e.getClientRects().length > 0;
    const slides = [...document.querySelectorAll('.slide')], now = slides.filter(seen), svg = now[0]?.querySelector('svg');
    const of = name => [...svg.children].filter(e => e.classList.contains(name));
    const box = e => { const r = e.getBoundingClientRect(); return [r.x, r.y, r.right, r.bottom].map(v => Math.round(v * 10) / 10); };
    const parts = g => [...g.querySelectorAll('path,circle,use')].filter(e => !e.closest('clipPath,defs,.cued'));         // what fades and hides has a test of its own
    const words = [...of('caption'), ...of('question')].filter(g => g.classList.contains('told') && parts(g).some(seen));
    const drawn = [...svg.querySelectorAll('.step')].flatMap(parts).map(box);
    return {
        slides: now.map(s => slides.indexOf(s)),
        steps: of('step').map(g => parts(g).length ? parts(g).some(seen) : null),
        hidden: of('step').map(g => g.getAttribute('aria-hidden') === 'true'),
        words: words.map(g => g.getAttribute('class').split(' ')[0]),
        boxes: drawn, bottom: Math.max(...drawn.map(b => b[3])),
        wordsTop: Math.min(...words.flatMap(parts).map(e => box(e)[1])), wordsEnd: Math.max(...words.flatMap(parts).map(e => box(e)[3])),
        stage: box(now[0].querySelector('.stage')),
        list: [...now[0].querySelectorAll('.captions>li')].map(li => getComputedStyle(li).display !== 'none'),
        said: document.getElementById('said').textContent, hash: location.hash, count: document.getElementById('count').textContent,
        moves: document.getAnimations().length, wide: document.documentElement.scrollWidth > innerWidth, aside: svg.hasAttribute('aria-describedby')
    };
}
const at_stage = (name, s, slide, k, d, first) => {
    const stage = d.stages[k];
    check(`${name}: one slide is seen`, s.slides.length === 1 && s.slides[0] === slide, s.slides.join());
    check(`${name}: steps`, s.steps.every((v, i) => v === null || v === (i <= stage.step)), s.steps.join());
    check(`${name}: later steps are hidden from readers`, s.hidden.every((v, i) => v === (i > stage.step)));
    check(`${name}: words`, stage.ask ? s.words.join() === 'question' : stage.step === 0 ? s.words.length === 0 : s.words.join() === (d.captions[stage.step - 1] ? 'caption' : ''), s.words.join());
    check(`${name}: list of captions`, s.list.every((v, i) => v === (i < stage.step)), s.list.join());
    check(`${name}: nothing moves or grows`, JSON.stringify(s.boxes) === JSON.stringify(first.boxes));
    if (s.words.length) check(`${name}: the strip covers nothing`, s.wordsTop > s.bottom && s.wordsEnd <= s.stage[3], `${s.wordsTop} ${s.bottom}`);
    check(`${name}: the place is in the address`, s.hash === `#${slide + 1}.${stage.step + (stage.ask ? 1 : 0)}${stage.ask ? 'ask' : ''}`, s.hash);
    check(`${name}: the description comes with the end`, s.aside === (k === d.stages.length - 1));
    check(`${name}: no motion where less is asked for`, s.moves === 0);
    check(`${name}: nothing to scroll`, !s.wide);
};

const browser = await chromium.launch({ executablePath: process.env.CHROMIUM || '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'] });
async function open(file, fragment = '', options = {}) {
    const context = await browser.newContext({ viewport: { width: 1280, height: 780 }, reducedMotion: 'reduce', ...options });
    const page = await context.newPage();
    page.faults = [];
    page.on('console', m => page.faults.push(m.text()));
    page.on('pageerror', e => page.faults.push(e.message));
    page.on('request', r => { if (!/^(file|data|about):/.test(r.url())) page.faults.push('asked for ' + r.url()); });
    await page.goto('file://' + file + fragment);
    return page;
}
const done = async (page, name) => { check(`${name}: no fault, nothing asked for`, page.faults.length === 0, page.faults.join('; ')); await page.context().close(); };

// Forward through all, and back again.
async function steps(file, name, deck) {
    const page = await open(file), firsts = [], keys = ['ArrowRight', 'PageDown', 'Space', 'Enter'];
    for (let s = 0; s < deck.length; s++) {
        for (let k = 0; k < deck[s].stages.length; k++) {
            if (s + k > 0) await page.keyboard.press(keys[(s + k) % keys.length]);
            const seen = await page.evaluate(look);
            if (k === 0) firsts[s] = seen;
            at_stage(`${name} ${s + 1}/${k}`, seen, s, k, deck[s], firsts[s]);
            const stage = deck[s].stages[k];
            if (s + k > 0) check(`${name} ${s + 1}/${k}: said`, stage.ask ? seen.said.includes('Question before step ' + (stage.step + 1)) : stage.step === 0 ? seen.said.includes(deck[s].title.slice(0, 5)) : seen.said.includes(`Step ${stage.step} of ${deck[s].steps - 1}: `), seen.said);
        }
    }
    await page.keyboard.press('ArrowRight');
    check(`${name}: after the last nothing more`, (await page.evaluate(look)).slides[0] === deck.length - 1);
    for (let s = deck.length - 1; s >= 0; s--)
        for (let k = deck[s].stages.length - 1; k >= 0; k--) {
            at_stage(`${name} back ${s + 1}/${k}`, await page.evaluate(look), s, k, deck[s], firsts[s]);
            await page.keyboard.press(k % 2 ? 'ArrowLeft' : 'PageUp');
        }
    await done(page, name);
}

async function hands(file, name, deck) {
    const page = await open(file, '#1.2'), at = async () => (await page.evaluate(look)).hash;
    const last = deck.length, end = `#1.${deck[0].steps - 1}`;
    check(`${name}: it begins where its address says`, await at() === '#1.2');
    await page.keyboard.press('End');
    check(`${name}: End`, await at() === end, await at());
    await page.keyboard.press('Home');
    check(`${name}: Home`, await at() === '#1.0');
    await page.keyboard.type(`${last}.1`);
    await page.keyboard.press('Enter');
    check(`${name}: a place by number`, await at() === `#${last}.1`, await at());
    await page.keyboard.type('77');
    await page.keyboard.press('Enter');
    check(`${name}: no such place`, await at() === `#${last}.1` && await page.evaluate(() => document.activeElement.id) === 'go');
    await page.keyboard.press('Escape');
    await page.keyboard.press('ArrowUp');
    check(`${name}: slide before`, await at() === (last > 1 ? `#${last - 1}.0` : `#${last}.1`));
    await page.keyboard.press('Home');
    await page.mouse.click(600, 300);
    check(`${name}: a click goes on`, !(await at()).endsWith('.0'));
    const here = await at();
    for (const key of ['b', '.', 'b']) {
        await page.keyboard.press(key);
        check(`${name}: ${key} blanks, and shows again`, await page.evaluate(() => getComputedStyle(document.getElementById('cover')).display === 'block') === (key !== '.'));
    }
    await page.keyboard.press('Escape');
    check(`${name}: blank and back leave the step`, await at() === here);
    await page.keyboard.press('a');
    const stages = deck.reduce((n, d) => n + d.stages.length, 0);
    check(`${name}: all steps at a glance`, await page.locator('#glance[open] button').count() === stages);
    const twice = await page.evaluate(() => { const ids = [...document.querySelectorAll('[id]')].map(e => e.id); return ids.length - new Set(ids).size; });
    check(`${name}: no id twice, copies open`, twice === 0, twice);
    await page.locator('#glance button').last().click();
    check(`${name}: and one of them taken`, await at() === `#${last}.${deck[last - 1].steps - 1}`);
    await page.keyboard.press('h');
    await page.locator('#letters').uncheck();
    await page.locator('#closehelp').click();
    for (const key of ['b', 'a', 'l', 'd', '2']) await page.keyboard.press(key);
    check(`${name}: letters switched off do nothing`, await page.evaluate(() => document.documentElement.className === 'js' && document.activeElement.id !== 'go' && !document.querySelector('dialog[open]')));
    await page.locator('#next').focus();
    await page.keyboard.press('ArrowLeft');
    const before = await at();
    await page.keyboard.press('Space');
    await page.keyboard.press('ArrowLeft');
    check(`${name}: space on a button acts once`, await at() === before, `${before} ${await at()}`);
    const small = await page.evaluate(() => [...document.querySelectorAll('#controls button,#controls input')].filter(b => { const r = b.getBoundingClientRect(); return r.width < 44 || r.height < 44; }).map(b => b.id));
    check(`${name}: controls are 44 px and more`, small.length === 0, small.join());
    await done(page, name);
}

// A description that tells no more than is seen, and each caption that has been there, once and no sooner.
function described(name, tree, d, k) {
    const stage = d.stages[k], last = k === d.stages.length - 1, is = tree.find(n => n.role?.value === 'graphics-document')?.description?.value ?? '';
    const want = last ? d.whole : [d.given, ...d.captions.slice(0, stage.step).filter(Boolean)].join(' ');
    check(`${name}: description in the tree at stage ${k}`, want.length > 40 && is === want, is);
    d.captions.forEach((caption, i) => {
        const there = tree.some(n => n.role?.value === 'StaticText' && n.name?.value?.trim() === caption);
        check(`${name}: caption ${i + 1} in the tree at stage ${k}`, !caption || there === i < stage.step, caption);
    });
}

async function readers(file, name, deck) {
    const page = await open(file), wire = await page.context().newCDPSession(page);
    await page.evaluate(axe + ';0');
    for (let k = 0; k < deck[0].stages.length; k++) {
        if (k === deck[0].stages.length - 1) await page.keyboard.press('d');
        const report = await page.evaluate(() => axe.run());
        check(`${name}: axe at stage ${k}`, report.violations.length === 0 && report.passes.length > 10, report.violations.map(v => v.id + ' ' + v.nodes[0].html.slice(0, 80)).join('; '));
        const tree = (await wire.send('Accessibility.getFullAXTree')).nodes.filter(n => !n.ignored);
        const name_of = n => n.name?.value ?? '', stage = deck[0].stages[k];
        const parts = tree.filter(n => n.role?.value === 'graphics-object').length;
        check(`${name}: title in the tree`, tree.some(n => n.role?.value === 'heading' && name_of(n) === deck[0].title) && tree.some(n => n.role?.value === 'graphics-document' && name_of(n) === deck[0].title));
        check(`${name}: ${stage.step + 1} parts in the tree, not ${parts}`, parts === stage.step + 1);
        const told = await page.evaluate(() => document.getElementById('said').textContent);
        check(`${name}: what is said in the tree`, k === 0 || tree.some(n => n.role?.value === 'status') && tree.some(n => told.length > 8 && told.includes(name_of(n)) && name_of(n).length > 8));
        described(name, tree, deck[0], k);
        await page.keyboard.press('ArrowRight');
    }
    await page.goto('file://' + file + '#1.0');
    await page.evaluate(axe + ';0');
    for (const [key, what] of [['l', 'lectern'], ['a', 'all steps'], ['Escape', ''], ['h', 'keys']]) {
        await page.keyboard.press(key);
        const report = what ? await page.evaluate(() => axe.run()) : { violations: [] };
        check(`${name}: axe, ${what}`, report.violations.length === 0, report.violations.map(v => v.id + ' ' + v.nodes[0].html.slice(0, 80)).join('; '));
    }
    await done(page, name);
}

async function paper(file, name, deck) {
    const page = await open(file, '#1.1'), sheets = pdf => (pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g) || []).length;
    check(`${name}: a sheet a slide`, sheets(await page.pdf({ landscape: true, format: 'A4' })) === deck.length);
    await page.emulateMedia({ media: 'print' });
    const whole = await page.evaluate(() => [...document.querySelectorAll('.slide')].every(s => s.getClientRects().length && [...s.querySelectorAll('.step')].every(g => getComputedStyle(g).visibility === 'visible')
        && [...s.querySelectorAll('.captions>li')].every(li => li.getClientRects().length && getComputedStyle(li).display === 'list-item')));
    check(`${name}: finished figures and all captions on paper`, whole);
    await page.evaluate(() => { document.getElementById('printsteps').click(); });
    const stages = deck.reduce((n, d) => n + d.stages.length, 0), n = sheets(await page.pdf({ landscape: true, format: 'A4' }));
    check(`${name}: ${stages} sheets by step, not ${n}`, n === stages);
    const later = await page.evaluate(() => [...document.querySelectorAll('#paper svg')].map(s => [...s.querySelectorAll('.step')].filter(g => getComputedStyle(g).visibility === 'visible').length));
    check(`${name}: each with its steps`, later.join() === deck.flatMap(d => d.stages.map(s => s.step + 1)).join(), later.join());
    await done(page, name);
}

async function others(file, name, deck) {
    const moving = await open(file, '#1.0', { reducedMotion: 'no-preference' });
    await moving.keyboard.press('End');
    await moving.keyboard.press('r');
    await moving.keyboard.press('Home');
    for (let k = 1, moved = 0; k < deck[0].stages.length; k++) {
        await moving.keyboard.press('ArrowRight');
        moved += await moving.evaluate(() => document.getAnimations().filter(a => a.effect.target.classList.contains('run')).length);
        if (k === deck[0].stages.length - 1) check(`${name}: light draws itself`, moved > 0);
    }
    await moving.waitForFunction(() => !document.querySelector('.now'), null, { timeout: 5000 });
    await done(moving, name);
    const touched = await open(file, '#1.0', { hasTouch: true }), at = () => touched.evaluate(() => location.hash), wire = await touched.context().newCDPSession(touched);
    const swipe = async (from, to) => {
        const touch = (type, x) => wire.send('Input.dispatchTouchEvent', { type, touchPoints: x === null ? [] : [{ x, y: 300 }] });
        await touch('touchStart', from);
        for (let i = 1; i <= 4; i++) await touch('touchMove', from + (to - from) * i / 4);
        await touch('touchEnd', null);
        await touched.waitForTimeout(60);
    };
    const seen_at = [];
    await touched.touchscreen.tap(600, 300);
    await touched.waitForTimeout(60);
    seen_at.push(await at());
    await swipe(700, 300);
    seen_at.push(await at());
    await swipe(300, 700);
    seen_at.push(await at());
    check(`${name}: a tap goes on, swipes go on and back`, seen_at[0] !== '#1.0' && seen_at[1] !== seen_at[0] && seen_at[2] === seen_at[0], seen_at.join());
    await done(touched, name);
    const bare = await open(file, '', { javaScriptEnabled: false });
    const seen = await bare.locator('.slide .captions li').evaluateAll(l => l.every(li => li.getClientRects().length > 0)).catch(() => null);
    check(`${name}: without script every slide and caption stands`, await bare.locator('.slide').count() === deck.length && seen !== false && !(await bare.locator('#controls').isVisible()) && await bare.locator('.slide').last().isVisible());
    await bare.context().close();
    // A second window follows the lectern and leads it.
    const page = await open(file);
    await page.keyboard.press('l');
    const [second] = await Promise.all([page.context().waitForEvent('page'), page.locator('#second').click()]);
    await second.waitForFunction(() => document.documentElement.classList.contains('js'));
    await page.locator('#next').focus();
    await page.keyboard.press('ArrowRight');
    await second.waitForFunction(() => location.hash !== '#1.0', null, { timeout: 5000 });
    check(`${name}: the second window follows`, await second.evaluate(() => location.hash) === await page.evaluate(() => location.hash));
    await second.keyboard.press('End');
    await page.waitForFunction(h => location.hash === h, await second.evaluate(() => location.hash), { timeout: 5000 });
    await page.keyboard.press('b');
    await second.waitForFunction(() => document.documentElement.classList.contains('blank'), null, { timeout: 5000 });
    check(`${name}: the second window goes blank, the lectern stays`, !(await page.evaluate(() => document.documentElement.classList.contains('blank'))));
    await done(page, name);
}

// Its size is the window's: older releases know no way to set a view's.
async function firefox(file, name, deck) {
    const fox = await puppeteer.launch({ browser: 'firefox', executablePath: process.env.FIREFOX || '/usr/bin/firefox-esr', headless: true, defaultViewport: null, args: ['--width=1280', '--height=865'], extraPrefsFirefox: { 'ui.prefersReducedMotion': 1 } });
    const page = await fox.newPage(), faults = [];
    page.on('console', m => faults.push(m.text()));
    page.on('pageerror', e => faults.push(e.message));
    await page.goto('file://' + file);
    let first;
    for (let k = 0; k < deck[0].stages.length; k++) {
        if (k) await page.keyboard.press('ArrowRight');
        const seen = await page.evaluate(look);
        first = first || seen;
        at_stage(`${name} Firefox ${k}`, seen, 0, k, deck[0], first);
    }
    await page.keyboard.press('ArrowLeft');
    check(`${name}: Firefox goes back`, (await page.evaluate(look)).hash !== `#1.${deck[0].steps - 1}`);
    await page.keyboard.press('a');
    check(`${name}: Firefox shows all steps`, await page.evaluate(() => document.querySelectorAll('#glance[open] button').length) >= deck[0].stages.length);
    check(`${name}: no fault in Firefox`, faults.length === 0, faults.join('; '));
    await fox.close();
}

const text = name => readFileSync(page_of(name), 'utf8'), decks = Object.fromEntries(['questions', 'whole_lens', 'shaving_mirror'].map(n => [n, truth(text(n))]));
for (const name of ['questions', 'whole_lens']) {
    check(`${name}: there is something to step`, decks[name].length > 0 && decks[name].every(d => d.stages.length > 2));
    await steps(page_of(name), name, decks[name]);
    await paper(page_of(name), name, decks[name]);
}
await hands(page_of('whole_lens'), 'whole_lens', decks.whole_lens);
for (const name of ['questions', 'shaving_mirror']) await readers(page_of(name), name, decks[name]);
await others(page_of('questions'), 'questions', decks.questions);
await firefox(page_of('questions'), 'questions', decks.questions);

const bad = join(mkdtempSync(join(tmpdir(), 'slides-')), 'damaged.html'), good = text('questions');
const damages = {
    'later steps seen': good.replace('.drawing.js>.later{visibility:hidden}', ''),
    'later steps told to readers': good.replace("if (k > to) group.setAttribute('aria-hidden', 'true');", ''),
    'captions never shown': good.replace('.drawing.js>.caption.told{display:inline}', ''),
    'the drawing grows with the steps': good.replace('steps.show(k, draw);', 'steps.show(k, draw); now.drawing.style.width = 100 - k + "%";').replace('now.steps.show', 'now.drawing.style.width = 100 - k + "%"; now.steps.show'),
    'the end described from the start': good.replace('desc.textContent = stage === stages.length - 1 ? whole', 'desc.textContent = stage >= 0 ? whole'),
    'nothing said': good.replace("get('said').textContent = words;", '')
};
for (const [what, damaged] of Object.entries(damages)) {
    check(`damage "${what}" is possible`, damaged !== good);
    writeFileSync(bad, damaged);
    quiet = true; red = 0;
    await steps(bad, 'damaged', decks.questions);
    if (/described/.test(what)) await readers(bad, 'damaged', decks.questions);
    quiet = false;
    check(`damage "${what}" is seen`, red > 0);
}
await browser.close();
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed || !passed ? 1 : 0);
