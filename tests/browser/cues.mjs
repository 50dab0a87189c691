// cues.mjs FILE...: figures with questions and with things that fade, hide and come back. In headless Chromium: every stage,
// forwards and back, shows just the steps, words and looks that the file's own data say; print and no script show the end.
// Damaged copies must turn it red. Last line: "N passed, N failed".
import { chromium } from 'playwright-core';
import { readFileSync, writeFileSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

let passed = 0, failed = 0, quiet = false, red = 0;
function check(name, ok, more = '') {
    if (quiet) { if (!ok) red++; return; }
    if (ok) passed++;
    else { failed++; console.log(`${name}${more ? ': ' + more : ''}`); }
}
const files = process.argv.slice(2).map(f => resolve(f));
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'] });

// What the page shows now, by computed style.
const seen = page => page.evaluate(() => {
    const is = e => getComputedStyle(e).display !== 'none' && getComputedStyle(e).visibility !== 'hidden';
    const of = name => [...document.documentElement.children].filter(e => e.classList.contains(name));
    return {
        steps: of('step').map(is), captions: of('caption').map(is), questions: of('question').map(is),
        cued: [...document.querySelectorAll('.cued')].map(e => getComputedStyle(e).display === 'none' ? 'h' : Number(getComputedStyle(e).opacity) < 0.99 ? 'f' : 's'),
        faint: Math.min(1, ...[...document.querySelectorAll('.cued')].map(e => Number(getComputedStyle(e).opacity))),
        told: document.querySelector('[aria-live]')?.textContent ?? '',
    };
});
function data(text) {
    const looks = [...text.matchAll(/class="cued"[^>]*data-look="([^"]*)"/g)].map(m => m[1].split(' ').map(c => [parseInt(c, 10), c.slice(-1)]));
    const asked = [...text.matchAll(/class="question" data-step="(\d+)"/g)].map(m => Number(m[1]));
    const steps = [...text.matchAll(/class="step"/g)].length;
    const stages = [];
    for (let k = 0; k < steps; k++) { if (asked.includes(k)) stages.push({ step: k - 1, ask: asked.indexOf(k) }); stages.push({ step: k, ask: -1 }); }
    return { looks, asked, steps, stages };
}
const look = (cues, step) => cues.reduce((now, [at, what]) => at <= step ? what : now, 's');

async function one(path, name, truth) {
    const page = await browser.newPage({ reducedMotion: 'reduce' });
    await page.goto('file://' + path);
    const d = truth;
    const at = async (i, how) => {
        const s = await seen(page), stage = d.stages[i];
        check(`${name}: ${how} stage ${i}: steps`, s.steps.every((v, k) => v === (k <= stage.step)), s.steps.join());
        check(`${name}: ${how} stage ${i}: question`, s.questions.every((v, k) => v === (k === stage.ask)));
        check(`${name}: ${how} stage ${i}: caption`, s.captions.every((v, k) => v === (stage.ask < 0 && k + 1 === stage.step)));
        check(`${name}: ${how} stage ${i}: looks`, s.cued.length === d.looks.length && d.looks.every((c, k) => s.cued[k] === look(c, stage.step)), s.cued.join());
        check(`${name}: ${how} stage ${i}: faded stays above half`, s.faint >= 0.55);
        if (i > 0) check(`${name}: ${how} stage ${i}: told`, stage.ask < 0 ? s.told.startsWith(`Step ${stage.step} of`) : s.told.startsWith(`Question before step ${stage.step + 1}`), s.told);
    };
    for (let i = 0; i < d.stages.length; i++) { await at(i, 'forward'); await page.keyboard.press('ArrowRight'); }
    for (let i = d.stages.length - 1; i > 0; i--) { await page.keyboard.press('ArrowLeft'); await at(i - 1, 'back'); }
    const end = c => look(c, d.steps);
    await page.emulateMedia({ media: 'print' });
    let s = await seen(page);
    check(`${name}: print: looks of the end`, d.looks.every((c, k) => s.cued[k] === end(c)) && !s.questions.some(v => v));
    await page.close();
    const bare = await (await browser.newContext({ javaScriptEnabled: false })).newPage();
    await bare.goto('file://' + path);
    await bare.screenshot();
    check(`${name}: without script`, readFileSync(path, 'utf8').match(/class="question"[^>]*display="none"/g)?.length === d.asked.length);
    await bare.close();
}
const folder = mkdtempSync(join(tmpdir(), 'cues-'));
for (const path of files) {
    const text = readFileSync(path, 'utf8'), name = path.split('/').pop(), truth = data(text);
    check(`${name}: has questions and looks`, truth.asked.length > 0 && truth.looks.length > 0);
    await one(path, name, truth);
    const damages = {
        'looks of another step': text.replace(/data-look="(\d)/, (m, k) => `data-look="${Number(k) + 1}`),
        'faded too far': text.replace('opacity:.55', 'opacity:.3'),
        'question never shown': text.replace('.question.told{display:inline}', '.question.told{display:none}'),
        'hidden stays': text.replace('.cued.gone{display:none}', '.cued.gone{display:inline}'),
    };
    for (const [what, damaged] of Object.entries(damages)) {
        check(`${name}: damage "${what}" is possible`, damaged !== text);
        const bad = join(folder, 'damaged.svg');
        writeFileSync(bad, damaged);
        quiet = true; red = 0;
        await one(bad, name, truth);
        quiet = false;
        check(`${name}: damage "${what}" is seen`, red > 0);
    }
}
await browser.close();
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed || !passed ? 1 : 0);
