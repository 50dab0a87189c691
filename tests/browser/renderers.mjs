// Draws SVG figures with librsvg, Chromium and Firefox at 6 pixels a millimetre and tells how far their pictures are apart.
//   in   PIXELS (the program of tests/tools/pixels.c), FOLDER for what is made, then SVG files.
//   out  the most different figures, then "N passed, N failed"; two pictures of a figure pass when their means over 4 by 4 pixels
//        differ by at most MOST of 255 (other smoothing of lines came to 31). A figure without one of its rays must turn red.
import { chromium } from 'playwright-core';
import { execFileSync } from 'node:child_process';
import { pathToFileURL } from 'node:url';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';

const MOST = 48, PER_MM = 6, PAGE = 10;
const [pixels, folder, ...files] = process.argv.slice(2).map(name => path.resolve(name));
// Firefox begins the dashes of a dashed rectangle at another corner; where a figure has one, that much is let pass with Firefox.
const RECTANGLES = { 'clear_ground.pool_window': 130 };
const names = ['librsvg', 'Chromium', 'Firefox'], pairs = [[0, 1], [0, 2], [1, 2]];

// A picture of whole pixels, so that no renderer stretches it: the view grows by less than one pixel.
function resized(file) {
    const text = fs.readFileSync(file, 'utf8');
    const [all, w, h] = text.match(/width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 [\d.]+ [\d.]+"/);
    const W = Math.ceil(w * PER_MM), H = Math.ceil(h * PER_MM);
    return { W, H, text: text.replace(all, `width="${W}" height="${H}" viewBox="0 0 ${W / PER_MM} ${H / PER_MM}"`) };
}
// Figures one below the other on a page, since a browser takes a second to start.
function write_page(figures, name) {
    let top = 0;
    const images = figures.map(f => {
        f.top = top;
        top += f.H;
        return `<img src="${path.basename(f.svg)}" style="position:absolute;left:0;top:${f.top}px;width:${f.W}px;height:${f.H}px">`;
    });
    const width = Math.max(...figures.map(f => f.W));
    const html = path.join(folder, name + '.html');
    fs.writeFileSync(html, `<!DOCTYPE html><title>figures</title><body style="margin:0;background:#fff;width:${width}px;height:${top}px">${images.join('')}`);
    return { html, width, height: top };
}
async function with_chromium(browser, page, out) {
    const tab = await browser.newPage({ viewport: { width: page.width, height: page.height }, deviceScaleFactor: 1 });
    await tab.goto(pathToFileURL(page.html).href, { waitUntil: 'load' });
    await tab.screenshot({ path: out });
    await tab.close();
}
function with_firefox(profile, page, out) {
    execFileSync('firefox-esr', ['--headless', '--no-remote', '--profile', profile, '--screenshot', out,
        `--window-size=${page.width},${page.height}`, pathToFileURL(page.html).href], { stdio: 'ignore', timeout: 120000 });
}
// The greatest difference over 4 by 4 pixels, where it is, and the mean one; what librsvg drew has a file of its own.
function apart(f, i, j) {
    const at = k => k === 0 ? [0, 0] : [0, f.top];
    const out = execFileSync(pixels, [f.png[i], f.png[j], ...at(i), ...at(j), f.W, f.H].map(String), { encoding: 'utf8' });
    const [worst, x, y, mean] = out.split(' ').map(Number);
    return { name: f.name, pair: `${names[i]} and ${names[j]}`, worst, x, y, mean };
}

fs.rmSync(folder, { recursive: true, force: true });
fs.mkdirSync(folder, { recursive: true });
function prepare(file, name) {
    const f = { name, svg: path.join(folder, name + '.svg'), ...resized(file) };
    fs.writeFileSync(f.svg, f.text);
    f.png = [f.svg.replace(/svg$/, 'png')];
    execFileSync('rsvg-convert', ['-b', 'white', f.svg, '-o', f.png[0]]);
    return f;
}
const figures = files.map(file => prepare(file, path.basename(path.dirname(file)) + '.' + path.basename(file, '.svg')));
const damaged = figures.length ? prepare(files[0], 'damaged') : null;
if (damaged) fs.writeFileSync(damaged.svg, damaged.text.replace(/<path d="[^"]*" stroke="#0364f0"[^>]*\/>/, ''));      // the browsers get this one

const profile = fs.mkdtempSync(path.join(os.tmpdir(), 'sagitta-firefox-'));
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM || '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--font-render-hinting=none'] });
const all = damaged ? [...figures, damaged] : [];
try {
    for (let k = 0; k < all.length; k += PAGE) {
        const some = all.slice(k, k + PAGE), page = write_page(some, `page${k / PAGE}`);
        const pngs = ['chromium', 'firefox'].map(b => path.join(folder, `page${k / PAGE}.${b}.png`));
        await with_chromium(browser, page, pngs[0]);
        with_firefox(profile, page, pngs[1]);
        for (const f of some) f.png.push(...pngs);
    }
} finally {
    await browser.close();
    fs.rmSync(profile, { recursive: true, force: true });
}

const found = figures.flatMap(f => pairs.map(([i, j]) => apart(f, i, j)));
const most = d => d.pair.includes('Firefox') && RECTANGLES[d.name] || MOST;
let failed = found.filter(d => !(d.worst <= most(d))).length, passed = found.length - failed;
if (damaged && apart(damaged, 0, 1).worst > MOST && apart(damaged, 0, 2).worst > MOST) passed++;
else { failed++; console.log('a figure without one of its rays does not turn red'); }
for (const d of [...found].sort((a, b) => b.worst - a.worst).slice(0, 8))
    console.log(`${d.worst.toFixed(1).padStart(6)} at ${d.x},${d.y} px; mean ${d.mean.toFixed(3)}: ${d.name}, ${d.pair}`);
for (const [i, j] of pairs) {
    const of = found.filter(d => d.pair === `${names[i]} and ${names[j]}`);
    const mean = of.reduce((sum, d) => sum + d.mean, 0) / of.length;
    console.log(`${names[i]} and ${names[j]}: worst ${Math.max(...of.map(d => d.worst)).toFixed(1)}, mean ${mean.toFixed(3)} of 255 over ${of.length} figures`);
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
