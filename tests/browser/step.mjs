// Steps SVG figures in a real browser and looks at what is seen.
//   in   SVG files as arguments; without any, those of build/demo. CHROMIUM names the browser, else /usr/bin/chromium.
//   out  one line for each failure, then "N passed, N failed"; exit status 1 on any failure, or when nothing could be checked.
// At the end it damages copies of a figure and demands that the same checks turn red.
import { chromium } from 'playwright-core';
import { createRequire } from 'node:module';
import { fileURLToPath, pathToFileURL } from 'node:url';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';

const here = path.dirname(fileURLToPath(import.meta.url));
const axe = fs.readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const view = { width: 1280, height: 720 };
const forward = ['ArrowRight', 'PageDown', 'Space', 'Enter'], back = ['ArrowLeft', 'PageUp', 'Shift+Space'];
let browser, measure;

// ---- what is seen ----

// Runs inside the page; everything the checks look at, read from computed styles and boxes only.
function look() {
    const svg = document.documentElement, seen = node => node.getClientRects().length > 0 && getComputedStyle(node).visibility === 'visible';
    const leaves = group => [...group.querySelectorAll('path,circle,use,rect,text')].filter(node => !node.closest('clipPath'));
    const box = node => { const r = node.getBoundingClientRect(); return [r.x, r.y, r.width, r.height]; };
    const groups = [...svg.children].filter(node => node.classList.contains('step'));
    const captions = [...svg.children].filter(node => node.classList.contains('caption'));
    const live = document.querySelector('[aria-live=polite]');
    const shown = captions.map((c, k) => leaves(c).some(seen) ? k + 1 : 0).filter(k => k);
    return {
        player: svg.classList.contains('js'),
        steps: groups.length - 1,
        visible: groups.map((g, k) => [k, leaves(g).map(seen)]).filter(([, l]) => l.some(v => v)).map(([k]) => k),
        half: groups.map((g, k) => [k, leaves(g).map(seen)]).filter(([, l]) => l.some(v => v) && !l.every(v => v)).map(([k]) => k),
        empty: groups.map((g, k) => leaves(g).length ? -1 : k).filter(k => k >= 0),
        hidden: groups.map((g, k) => g.getAttribute('aria-hidden') === 'true' ? k : -1).filter(k => k >= 0),
        boxes: groups.flatMap(g => leaves(g).map(box)),
        shown,
        captionBox: shown.length ? box(captions[shown[0] - 1]) : null,
        figureBottom: (m => m.f + m.d * groups[0].ownerSVGElement.viewBox.baseVal.height)(groups[0].getScreenCTM())
            - Number(svg.getAttribute('data-strip') || 0) * groups[0].getScreenCTM().d,
        told: groups.map(g => { const d = g.querySelector(':scope>desc'); return d ? d.textContent : ''; }),
        live: live ? live.textContent : null,
        described: [...svg.children].find(node => node.localName === 'desc')?.textContent ?? '', given: svg.getAttribute('data-given') ?? '',
        moves: document.getAnimations().filter(a => a.playState === 'running' || a.pending).length,
        lit: [...document.querySelectorAll('.lit')].filter(n => getComputedStyle(n).clipPath !== 'none').length,
        window: [innerWidth, innerHeight],
        size: [svg.getBoundingClientRect().width, svg.getBoundingClientRect().height],
        background: getComputedStyle(svg).backgroundColor
    };
}
// How far apart two pictures are: the greatest difference of the means over 4 by 4 pixels, 0 to 255. Lines may be smoothed
// a little otherwise after a clip or inside an <img> (at most 20 was
// measured); a missing piece of a ray gave 110 and more.
const SAME = 40;
async function apart(a, b) {
    if (a.equals(b)) return 0;
    return measure.evaluate(async urls => {
        const [x, y] = await Promise.all(urls.map(async url => {
            const image = new Image();
            image.src = url;
            await image.decode();
            const w = image.width >> 2, h = image.height >> 2, sums = new Float64Array(w * h * 3);
            const canvas = Object.assign(document.createElement('canvas'), { width: image.width, height: image.height });
            const pen = canvas.getContext('2d');
            pen.drawImage(image, 0, 0);
            const data = pen.getImageData(0, 0, image.width, image.height).data;
            for (let j = 0; j < 4 * h; j++) for (let i = 0; i < 4 * w; i++) for (let c = 0; c < 3; c++) {
                sums[((j >> 2) * w + (i >> 2)) * 3 + c] += data[(j * image.width + i) * 4 + c] / 16;
            }
            return sums;
        }));
        return x.length === y.length ? x.reduce((most, v, i) => Math.max(most, Math.abs(v - y[i])), 0) : 255;
    }, [a, b].map(png => 'data:image/png;base64,' + png.toString('base64')));
}
const settle = page => page.evaluate(async () => {
    document.getAnimations().forEach(a => a.finish());
    await new Promise(r => requestAnimationFrame(() => setTimeout(r, 0)));
});
// Goes on by one step, holds what moves before any time has passed, and tells of it: on a busy machine it would be over.
function press() {
    dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight' }));
    return document.getAnimations().map(a => {
        const t = a.effect.getComputedTiming(), node = a.effect.target;
        a.pause();
        return { step: node.closest('.step').id, run: node.classList.contains('run'), end: t.endTime, times: t.iterations };
    });
}
const upTo = (k, s) => Array.from({ length: k + 1 }, (_, i) => i).filter(i => !s.empty.includes(i));
const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);

async function open(file, { fragment = '', ...options } = {}) {
    const context = await browser.newContext({ viewport: view, ...options });
    const page = await context.newPage();
    page.faults = [];
    page.on('pageerror', e => page.faults.push(e.message));
    page.on('request', r => { if (!r.url().startsWith('file:') && !r.url().startsWith('data:')) page.faults.push('asked for ' + r.url()); });
    await page.goto(pathToFileURL(file).href + fragment);
    return page;
}

// What the page should say at a step, in the language of the figure, from the wording itself.
function saidIn(file) {
    const lang = /<svg[^>]* xml:lang="([a-z]+)"/.exec(fs.readFileSync(file, 'utf8'))?.[1] ?? 'en';
    const words = fs.readFileSync(new URL(`../../runtime/wordings/${{ en: 'english', de: 'german', fr: 'french', es: 'spanish' }[lang]}.txt`, import.meta.url), 'utf8');
    const text = key => new RegExp(`^${key} = (.*)$`, 'm').exec(words)[1];
    return (step, last, caption) => (caption ? text('player_told') : text('player_step_of')).replace('{step}', step).replace('{last}', last).replace('{caption}', caption ?? '');
}

// ---- the checks, in parts; each is given `expect(ok, what)` ----

const parts = {
    // Every key, one step at a time, all the way; what is seen and said at each step; nothing moves.
    async steps(file, expect) {
        const said = saidIn(file);
        const page = await open(file, { reducedMotion: 'reduce' });
        let s = await page.evaluate(look);
        const n = s.steps, first = s.boxes;
        expect(n > 0 && s.player, 'the script runs');
        expect(same(s.visible, upTo(0, s)), `at the start only the givens are seen, not ${s.visible}`);
        expect(s.shown.length === 0 && s.live === '', 'at the start no caption, and nothing said');
        expect(Math.abs(s.size[0] - s.window[0]) < 1 && Math.abs(s.size[1] - s.window[1]) < 1, `fills the window, ${s.size}`);
        expect(s.background === 'rgb(255, 255, 255)', `white ground, ${s.background}`);
        for (let k = 1; k <= n; k++) {
            await page.keyboard.press(forward[(k - 1) % forward.length]);
            s = await page.evaluate(look);
            expect(same(s.visible, upTo(k, s)) && s.half.length === 0, `step ${k}: groups ${upTo(k, s)} are seen, not ${s.visible}`);
            expect(same(s.hidden, Array.from({ length: n - k }, (_, i) => k + 1 + i)), `step ${k}: later groups are hidden from readers`);
            expect(same(s.shown, s.told[k] ? [k] : []), `step ${k}: its caption alone is shown, not ${s.shown}`);
            expect(s.live === said(k, n, s.told[k]), `step ${k}: said "${s.live}"`);
            expect((s.described === [s.given, ...s.told.slice(1, k + 1)].filter(Boolean).join(' ')) === (k < n), `step ${k}: described as "${s.described}"`);
            const far = Math.max(...s.boxes.flatMap((b, i) => b.map((v, j) => Math.abs(v - first[i][j]))));
            expect(s.boxes.length === first.length && far < 0.01, `step ${k}: nothing moves, ${far} px`);
            if (s.captionBox) {
                const [x, y, w, h] = s.captionBox;
                expect(y >= s.figureBottom - 0.01, `step ${k}: caption at ${y} is below the figure's edge at ${s.figureBottom}`);
                expect(x >= 0 && x + w <= view.width && y + h <= view.height, `step ${k}: caption lies in the window`);
            }
        }
        await page.keyboard.press('ArrowRight');
        expect(same((await page.evaluate(look)).visible, s.visible), 'after the last step nothing more');
        await page.evaluate(axe + ';0');
        const report = await page.evaluate(() => axe.run());
        expect(report.violations.length === 0, 'axe: ' + report.violations.map(v => v.id));
        expect(report.passes.length > 0, 'axe looked at something');
        expect(page.faults.length === 0, page.faults.join('; '));
        await page.context().close();
    },

    // Every key from a known step, and those that are not ours.
    async keys(file, expect) {
        const said = saidIn(file);
        const page = await open(file, { reducedMotion: 'reduce' });
        const at = async () => (await page.evaluate(look)).live;
        const n = (await page.evaluate(look)).steps;
        for (const key of [...forward, ...back]) {
            await page.keyboard.press('Home');
            await page.keyboard.press('ArrowRight');
            if (n > 1) await page.keyboard.press('ArrowRight');
            await page.keyboard.press(back.includes(key) ? key : 'ArrowLeft');
            const low = Math.min(n, 2) - 1;
            expect((await at()).startsWith(said(low, n)), `${back.includes(key) ? key : 'ArrowLeft'} goes back`);
            if (back.includes(key)) continue;
            await page.keyboard.press(key);
            expect((await at()).startsWith(said(low + 1, n)), `${key} goes on`);
        }
        await page.keyboard.press('End');
        expect((await at()).startsWith(said(n, n)), 'End shows all');
        await page.keyboard.press('Home');
        expect((await at()).startsWith(said(0, n)), 'Home shows the givens');
        expect(same((await page.evaluate(look)).visible.filter(k => k > 0), []), 'Home hides every step');
        for (const key of ['Control+ArrowRight', 'Alt+Enter', 'Meta+Space', 'Tab', 'a', 'b', '.']) await page.keyboard.press(key);
        expect((await at()).startsWith(said(0, n)), 'other keys are left alone');
        await page.context().close();
    },

    async click(file, expect) {
        const page = await open(file, { reducedMotion: 'reduce' });
        const at = async () => Number((/^[^ ]+ (\d+)/.exec((await page.evaluate(look)).live) || [0, 0])[1]);
        const n = (await page.evaluate(look)).steps;
        await page.mouse.click(640, 300);
        expect(await at() === 1, 'a click goes on');
        await page.mouse.click(640, 300, { button: 'right' });
        await page.keyboard.press('Escape');
        await page.keyboard.down('Control');
        await page.mouse.click(640, 300);
        await page.keyboard.up('Control');
        expect(await at() === 1, 'a right click or one with Ctrl does not');
        await page.keyboard.press('End');
        await page.keyboard.press('ArrowLeft');
        const words = await page.evaluate(() => {
            const text = [...document.querySelectorAll('.caption text, .step text')].find(t => t.getClientRects().length && getComputedStyle(t).visibility === 'visible' && t.textContent.length > 2);
            const r = text && text.getBoundingClientRect();
            return r && [r.x, r.y + r.height / 2, r.width];
        });
        if (words) {
            await page.mouse.move(words[0] + 1, words[1]);
            await page.mouse.down();
            await page.mouse.move(words[0] + words[2] - 1, words[1], { steps: 4 });
            await page.mouse.up();
            expect((await page.evaluate(() => String(getSelection()))).length > 1, 'words can be marked');
            expect(await at() === n - 1, 'marking words does not step');
        }
        await page.context().close();
    },

    async touch(file, expect) {
        const said = saidIn(file);
        const page = await open(file, { reducedMotion: 'reduce', hasTouch: true });
        const at = async () => (await page.evaluate(look)).live;
        const n = (await page.evaluate(look)).steps;
        const wire = await page.context().newCDPSession(page);
        const swipe = async (x0, y0, x1, y1) => {
            await wire.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x: x0, y: y0 }] });
            for (let i = 1; i <= 5; i++) {
                await wire.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: [{ x: x0 + (x1 - x0) * i / 5, y: y0 + (y1 - y0) * i / 5 }] });
            }
            await wire.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
            await page.waitForTimeout(60);
        };
        await page.touchscreen.tap(640, 300);
        await page.waitForTimeout(60);
        expect((await at()).startsWith(said(1, n)), `a tap goes on: ${await at()}`);
        await swipe(400, 300, 700, 310);
        expect((await at()).startsWith(said(0, n)), `a swipe to the right goes back: ${await at()}`);
        await swipe(700, 300, 400, 290);
        expect((await at()).startsWith(said(1, n)), `a swipe to the left goes on by one: ${await at()}`);
        await swipe(600, 200, 620, 500);
        expect((await at()).startsWith(said(1, n)), `a swipe up or down does nothing: ${await at()}`);
        await page.context().close();
    },

    // Light draws itself once, in 0.6 to 1.2 s, and leaves the very picture that no motion leaves.
    async motion(file, expect) {
        const page = await open(file), still = await open(file, { reducedMotion: 'reduce' });
        const n = (await page.evaluate(look)).steps;
        for (let k = 1; k <= n; k++) {
            const r = await still.evaluate(press);
            expect(r.length === 0, `step ${k}: no motion where less is asked for`);
            const now = await page.evaluate(press);
            const has = await page.evaluate(j => document.querySelectorAll('.step')[j].querySelectorAll('.run').length, k);
            expect(now.filter(a => a.run).length === has, `step ${k}: ${has} parts of rays draw themselves, not ${now.filter(a => a.run).length}`);
            expect(now.every(a => a.times === 1), `step ${k}: each once`);
            expect(now.every(a => a.step.endsWith(`step${k}`)), `step ${k}: of this step only`);
            if (has) {
                const end = Math.max(...now.map(a => a.end)) / 1000;
                expect(end >= 0.599 && end <= 1.204, `step ${k}: light takes 0.6 to 1.2 s, not ${end}`);
                // Held at a third of the way: some of the step is seen, not all.
                await page.evaluate(t => document.getAnimations().forEach(a => { a.currentTime = t; }), end * 333);
                const part = await page.screenshot(), whole = await still.screenshot();
                expect(await apart(part, whole) > SAME, `step ${k}: at a third of the time the rays are not yet whole`);
                await page.evaluate(() => document.getAnimations().forEach(a => a.play()));
                await page.waitForFunction(() => !document.querySelector('.now'), null, { timeout: 15000 }).catch(() => {});
            }
            const s = await page.evaluate(look);
            expect(s.moves === 0 && s.lit === 0, `step ${k}: motion ends`);
            expect(await apart(await page.screenshot(), await still.screenshot()) <= SAME, `step ${k}: ends on the same picture as without motion`);
        }
        await page.keyboard.press('ArrowLeft');
        expect((await page.evaluate(look)).moves === 0, 'going back does not draw anew');
        await page.context().close();
        await still.context().close();
    },

    async fragments(file, expect) {
        const plain = await open(file, { javaScriptEnabled: false }), finished = await plain.screenshot();
        const n = (await plain.evaluate(look)).steps;
        for (let k = 0; k <= n; k++) {
            const page = await open(file, { fragment: `#step${k}` }), s = await page.evaluate(look);
            expect(!s.player && s.live === null, `#step${k}: the script stands down`);
            expect(same(s.visible, upTo(k, s)) && s.half.length === 0, `#step${k}: groups ${upTo(k, s)} are seen, not ${s.visible}`);
            expect(s.shown.length === 0, `#step${k}: no caption`);
            await page.context().close();
        }
        const play = await open(file, { fragment: '#play' });
        let s = await play.evaluate(look);
        expect(!s.player && s.moves > 0, '#play: plays without the script');
        expect(await play.evaluate(() => document.getAnimations().every(a => a.effect.getComputedTiming().iterations === 1)), '#play: once');
        expect(await apart(await play.screenshot(), finished) > SAME, '#play: begins with the givens');
        await settle(play);
        s = await play.evaluate(look);
        expect(s.moves === 0 && await apart(await play.screenshot(), finished) <= SAME, '#play: ends on the finished figure');
        await play.context().close();
        const calm = await open(file, { fragment: '#play', reducedMotion: 'reduce' });
        s = await calm.evaluate(look);
        expect(s.moves === 0 && s.lit === 0 && await apart(await calm.screenshot(), finished) <= SAME, '#play: finished at once where less motion is asked for');
        await calm.context().close();
        await plain.context().close();
    },

    // No script, an <img>, and print: always the finished figure.
    async finished(file, expect) {
        const plain = await open(file, { javaScriptEnabled: false }), s = await plain.evaluate(look);
        expect(same(s.visible, upTo(s.steps, s)) && s.half.length === 0 && s.shown.length === 0, 'without script: all steps, no caption');
        expect(s.moves === 0 && s.lit === 0, 'without script: no motion');
        // An <img> runs no script: it must show what the same file shows without style and script.
        const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'sagitta-img-')), text = fs.readFileSync(file, 'utf8');
        const bare = text.replace(/<style[^]*?<\/style>/, '').replace(/<script[^]*?<\/script>/, '');
        const frame = await browser.newPage({ viewport: view }), pictures = [];
        for (const [name, bytes] of [['whole', text], ['bare', bare]]) {
            fs.writeFileSync(path.join(folder, name + '.svg'), bytes);
            fs.writeFileSync(path.join(folder, name + '.html'), `<body style="margin:0"><img src="${name}.svg">`);
            await frame.goto(pathToFileURL(path.join(folder, name + '.html')).href);
            expect(await frame.evaluate(() => document.images[0].naturalWidth > 0), `in an <img>: ${name} is drawn`);
            pictures.push(await frame.screenshot());
        }
        expect(bare.length < text.length && await apart(...pictures) <= SAME, 'in an <img>: the finished figure');
        await frame.context().close();
        fs.rmSync(folder, { recursive: true });
        await plain.context().close();
        const page = await open(file, { reducedMotion: 'reduce' });
        await page.keyboard.press('ArrowRight');
        await page.emulateMedia({ media: 'print' });
        const p = await page.evaluate(look), box = fs.readFileSync(file, 'utf8').match(/viewBox="0 0 ([\d.]+) /);
        expect(same(p.visible, upTo(p.steps, p)) && p.shown.length === 0, 'printed while stepping: all steps, no caption');
        expect(Math.abs(p.size[0] - box[1] * 96 / 25.4) < 0.1, `printed at true size: ${p.size[0]} px wide for ${box[1]} mm`);
        await page.context().close();
    },

    async still(file, expect) {
        const text = fs.readFileSync(file, 'utf8');
        for (const word of ['<script', '<style', ' style=', '<clipPath', '<animate', '<set', ' display="none"', ' visibility=', ' onload']) {
            expect(!text.includes(word), `a still figure has no ${word}`);
        }
        const page = await open(file), s = await page.evaluate(look);
        expect(s.moves === 0 && s.live === null, 'a still figure does nothing');
        expect(same(s.visible, upTo(s.steps, s)) && s.half.length === 0, `a still figure shows all it has, not ${s.visible}`);
        expect(page.faults.length === 0, page.faults.join('; '));
        await page.context().close();
    }
};
async function check(file, names, expect) {
    for (const name of names) {
        try { await parts[name](file, expect); } catch (e) { expect(false, `${name}: ${e.message.split('\n')[0]}`); }
    }
}

// ---- damage that must be found ----

const damages = [
    ['steps', 'later steps stay visible', '.later{visibility:hidden}', '.later{visibility:visible}'],
    ['steps', 'a hidden step stands elsewhere', '.later{visibility:hidden}', '.later{visibility:hidden;transform:translate(1px)}'],
    ['steps', 'all captions at once', '.caption.told{', '.caption{'],
    ['steps', 'the caption covers the figure', '.caption.told{', '.caption.told{transform:translateY(-20px);'],
    ['steps', 'the end is described from the start', 'stage === stages.length - 1 ? whole', 'stage >= 0 ? whole'],
    ['steps', 'the live region is not told', 'words.textContent =', 'words.lost ='],
    ['steps', 'the window is not filled', 'width:100%;height:100%;', ''],
    ['keys', 'page up does nothing', 'PageUp: -1,', ''],
    ['keys', 'keys with Ctrl are taken', 'event.ctrlKey ||', ''],
    ['click', 'marking words steps', 'if (String(getSelection())) return;', ''],
    ['touch', 'swipes are not seen', "'pointerup'", "'pointerout-of-use'"],
    ['motion', 'motion where less is asked for', ' and (prefers-reduced-motion:no-preference)', ''],
    ['motion', 'motion without end', 'linear calc(var(--at,0s) + var(--wait)) both}', 'linear calc(var(--at,0s) + var(--wait)) infinite both}'],
    ['motion', 'no light is drawn', ':root.js>.now .run,', ''],
    ['fragments', '#step shows everything', ',:root>.here:target~.step{', ',.nowhere{'],
    ['fragments', 'the script does not stand down', 'if (asked && document.getElementById(asked)) return;', ''],
    ['finished', 'an <img> shows the givens only', '@media screen{', '.step~.step{display:none}@media screen{'],
    ['finished', 'print loses the later steps', '@media screen{', '@media all{'],
    ['still', 'a still figure with a style', null, '<style type="text/css">*{opacity:1}</style></svg>']
];

async function main() {
    let files = process.argv.slice(2), passed = 0, failed = 0;
    const demo = path.join(here, '../../build/demo');
    if (!files.length && fs.existsSync(demo)) files = fs.readdirSync(demo).filter(f => f.endsWith('.svg')).sort().map(f => path.join(demo, f));
    const count = name => (ok, what) => {
        if (ok) passed++;
        else { failed++; console.log(`${name}: ${what}`); }
    };
    try {
        browser = await chromium.launch({
            executablePath: process.env.CHROMIUM || '/usr/bin/chromium',
            args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking']
        });
    } catch (e) {
        console.log(`no browser: ${e.message.split('\n')[0]}\n0 passed, 1 failed`);
        process.exit(1);
    }
    measure = await browser.newPage();
    const stepped = files.filter(f => fs.readFileSync(f, 'utf8').includes('<script'));
    for (const file of files) {
        const names = stepped.includes(file) ? Object.keys(parts).filter(p => p !== 'still') : ['still'];
        await check(file, names, count(path.basename(file)));
    }
    count('step.mjs')(stepped.length > 0, 'no stepped figure was given, so nothing was stepped');
    const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'sagitta-step-'));
    // The sound figure to damage: of those where light moves, the one with most captions.
    const weight = f => {
        const text = fs.readFileSync(f, 'utf8');
        return text.includes('class="run"') ? text.split('<desc>').length : 0;
    };
    const sound = [...stepped].sort((a, b) => weight(b) - weight(a))[0];
    for (const [part, what, from, to] of sound ? damages : []) {
        const text = fs.readFileSync(sound, 'utf8'), copy = path.join(folder, 'damaged.svg');
        const bad = from === null ? text.replace('</svg>', to) : text.split(from).join(to);
        count('step.mjs')(bad !== text, `damage "${what}" finds nothing to damage`);
        fs.writeFileSync(copy, bad);
        let found = 0;
        await check(copy, [part], ok => { if (!ok) found++; });
        count('step.mjs')(found > 0, `damage "${what}" is not noticed`);
    }
    fs.rmSync(folder, { recursive: true });
    await browser.close();
    console.log(`${passed} passed, ${failed} failed`);
    process.exit(failed || !passed ? 1 : 0);
}
await main();
