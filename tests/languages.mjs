// languages.mjs BINARY SCRIPT...: nothing that is made speaks English of itself. Every script is drawn in a wording whose letters all
// carry accents, 30 % longer than the English, with its own texts in Greek: what is then left of plain letters in figures, slides,
// notes, presentations, sheets, keys, overlays and answers must be names of the script, units, or single letters. The same
// figures crowd nothing. Last line: "N passed, N failed".
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';

const [binary, ...scripts] = process.argv.slice(2).map(p => resolve(p));
const work = resolve('build/test/languages'), folder = dirname(scripts[0]);
rmSync(work, { recursive: true, force: true });
mkdirSync(work, { recursive: true });
let passed = 0, failed = 0;
function holds(good, name, more = '') {
    if (good) { passed++; return; }
    if (++failed < 30) console.log(`FAILED ${name}\n  ${more}`);
}
const run = (program, args) => spawnSync(program, args, { cwd: work, encoding: 'utf8', maxBuffer: 1 << 28 });
const lines = text => text.split('\n');

// ---- two alphabets ----
const ACCENTED = 'àáâãäåæçèéêëìíîïñòóôõöøùúûü', marked = s => s.replace(/[a-z]/g, c => ACCENTED[c.charCodeAt(0) - 97]).replace(/[A-Z]/g, c => ACCENTED[c.charCodeAt(0) - 65].toUpperCase());
const greek = s => s.replace(/[a-z]/g, c => String.fromCodePoint(0x3b1 + (c.charCodeAt(0) - 97) % 24)).replace(/[A-Z]/g, c => 'ΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩ'[(c.charCodeAt(0) - 65) % 24]);
const outsideHoles = (s, change) => s.split(/(\{[^}]*\})/).map((part, i) => (i % 2 ? part : change(part))).join('');
function wording() {
    return lines(readFileSync('runtime/wordings/english.txt', 'utf8')).map(l => {
        const m = /^([a-z_0-9]+) = (.*)$/.exec(l);
        if (!m) return l;
        if (m[1] === 'language') return 'language = und';
        if (m[1] === 'decimal_mark') return 'decimal_mark = ,';
        const longer = Math.ceil([...m[2].replace(/\{[^}]*\}/g, '')].length * 0.3);
        const text = outsideHoles(m[2], marked), end = /[.:?]?$/.exec(text)[0];
        return `${m[1]} = ${text.slice(0, text.length - end.length)}${'è'.repeat(longer)}${end}`;
    }).join('\n');
}
// Texts of a script, but paths, seeds and colours.
function translated(text) {
    return lines(text).filter(l => !/^\s*wording /.test(l)).map(l => (/^\s*#/.test(l) ? l : l.replace(/(\b(?:use|seed)\s+)?"((?:[^"\\]|\\.)*)"/g,
        (all, path, inner) => (path || inner.startsWith('#') ? all : `"${outsideHoles(inner, greek)}"`)))).map((l, i) => (i === 0 ? `wording "marked.txt"; ${l}` : l)).join('\n');
}

// ---- what may stay ----
const UNITS = new Set(['mm', 'cm', 'km', 'nm', 'um', 'inch', 'deg', 'rad']);
function namesOf(text) {
    const code = lines(text).map(l => l.replace(/^\s*#.*/, '')).join('\n').replace(/"(?:[^"\\]|\\.)*"/g, ' ');
    const kinds = 'mirror|lens|boundary|stop|screen|eye|object|image|construct|ray|beam|fan|point|system|normal|line|circle|arc|let|find|pick|figure|sheet|problem|panel|part|mistake|label|note|angle|dimension';
    const names = new Set([...code.matchAll(new RegExp(`(?:^|[;{])\\s*(?:${kinds})\\s+([\\p{L}_][\\p{L}\\p{N}_]*)`, 'gmu'))].map(m => m[1]));
    for (const m of text.matchAll(/\bseed\s+"([^"]*)"/g)) names.add(m[1]);
    for (const m of code.matchAll(/(?:^|[({,])\s*([\p{L}_][\p{L}\p{N}_]*)\s*=/gmu)) names.add(m[1]);
    return names;
}
// A name may stand with what is made of it: image_1, its property (flame.distance). Letters with an index stay: n1, FA.
function foreign(text, names) {
    return [...text.replace(/\d[\s\u2009]*in\b/g, ' ').matchAll(/[A-Za-z][A-Za-z0-9_.]*[A-Za-z0-9]/g)].map(m => m[0]).filter(word => {
        const head = word.split('.')[0];
        return !UNITS.has(word) && !names.has(word) && !names.has(head) && !names.has(head.replace(/_?\d+$/, '')) && !/^(?:[A-Z]\d?|\d*[A-Z]|[FCHV][A-Z]|[a-z]\d)$/.test(word);
    });
}
// What is read or read out of markup: text nodes and the attributes that hold words.
const SPOKEN = /\s(?:title|alt|aria-label|placeholder|data-(?!name|look|strip)[a-z-]+|draw:name|svg:title)="([^"]*)"/g;
function spoken(markup) {
    const bare = markup.replace(/<style\b[^]*?<\/style>/g, ' ').replace(/<script\b[^]*?<\/script>/g, ' ').replace(/<!--[^]*?-->/g, ' ').replace(/<!\[CDATA\[[^]*?\]\]>/g, ' ');
    const attributes = [...bare.matchAll(SPOKEN)].map(m => m[1]);
    return [...attributes, bare.replace(/<[^>]*>/g, '\n')].join('\n').replace(/&[a-z]+;|&#\d+;/g, ' ').replace(/\{[a-z_0-9]+\}/g, ' ');
}
const written = new Set();                             // numbers that stand in the authors' own texts
function pure(name, text, names) {
    const left = [...new Set(foreign(text, names))];
    holds(text.trim().length > 0 && left.length === 0, `${name}: English letters`, left.slice(0, 12).join(' | '));
    // Numbers have the comma of this wording and, where people read them, a true minus. 1.2 and 3.2 are places to go to.
    const points = [...new Set([...text.matchAll(/\d+\.\d+/g)].map(m => m[0]))].filter(n => !['1.2', '3.2'].includes(n) && !written.has(n));
    holds(points.length === 0, `${name}: decimal points`, points.slice(0, 12).join(' | '));
    const minus = /answers/.test(name) ? null : /(?:^|[\s(=,;])-\d[\d,]*/m.exec(text);
    holds(!minus, `${name}: a hyphen for a minus`, minus?.[0]);
}

// What a PDF has read aloud for its pictures.
function aloud(path) {
    const plain = spawnSync('qpdf', ['--qdf', '--object-streams=disable', path, '-'], { cwd: work, encoding: 'latin1', maxBuffer: 1 << 28 }).stdout;
    const texts = [...plain.matchAll(/\/Alt <([0-9a-f]+)>/g)].map(m => Buffer.from(m[1], 'hex'));
    return texts.map(b => (b[0] === 0xfe && b[1] === 0xff ? Buffer.from(b.subarray(2)).swap16().toString('utf16le') : b.toString('latin1')));
}

// ---- all that is made ----
writeFileSync(join(work, 'marked.txt'), wording());
for (const f of scripts) {
    const to = join(work, f.slice(folder.length + 1));
    mkdirSync(dirname(to), { recursive: true });
    writeFileSync(to, translated(readFileSync(f, 'utf8')));
    if (dirname(to) !== work) writeFileSync(join(dirname(to), 'marked.txt'), wording());
}
// What the slides' own script says of itself.
const js = ['runtime/slides.js', 'runtime/player.js', 'runtime/step.js'].map(f => readFileSync(f, 'utf8').replace(/\/\/.*|\/\*[^]*?\*\//g, '')).join('\n');
pure('the scripts of pages', ' ' + [...js.matchAll(/(['"`])((?:(?!\1)[^\\\n]|\\.)*)\1/g)].map(m => m[2]).filter(s => s !== 'use strict' && /[A-Za-z]{3,} [a-z]{2,}/.test(s) && !/[<>{}=;#[\]]/.test(s)).join('\n') + ' .', new Set());

const all = scripts.map(f => readFileSync(f, 'utf8')).join('\n');
const allNames = namesOf(all);
for (const text of all.matchAll(/"((?:[^"\\]|\\.)*)"/g)) for (const n of text[1].replace(/\{[^}]*\}/g, ' ').matchAll(/\d+\.\d+/g)) written.add(n[0]);
for (const f of scripts) {
    const script = f.slice(folder.length + 1), stem = basename(script, '.sag'), names = script.includes('/') ? allNames : new Set([...namesOf(readFileSync(f, 'utf8')), ...(/\buse "/.test(readFileSync(f, 'utf8')) ? allNames : [])]);
    const read = path => readFileSync(join(work, path), 'utf8');
    const make = (name, ...args) => {
        const made = run(binary, args);
        holds(made.status === 0 || /no (?:figure|sheet)|has no sheets?|holds no/.test(made.stderr), `${script}: ${name} is made`, made.stderr.slice(0, 400));
        return made.status === 0;
    };
    const text = readFileSync(f, 'utf8'), figures = /^figure /m.test(text), sheets = [...text.matchAll(/^sheet ([\p{L}\p{N}_]+)/gmu)].map(m => m[1]);
    if (figures) {
        if (make('figures', 'draw', script, '-o', `${stem}/`)) for (const svg of readdirSync(join(work, stem)).filter(n => n.endsWith('.svg'))) pure(`${script} ${svg}`, spoken(read(`${stem}/${svg}`)), names);
        if (make('slides', 'draw', script, '-o', `${stem}.html`)) pure(`${script} slides`, spoken(read(`${stem}.html`)), names);
        if (make('pages', 'draw', script, '-o', `${stem}.pdf`, '--final')) {
            const texts = aloud(`${stem}.pdf`);
            holds(texts.length > 0, `${script}: its pages are read aloud`);
            pure(`${script} pages, read aloud`, texts.join('\n'), names);
        }
        if (make('notes', 'draw', script, '-o', `${stem}-notes.html`, '--notes')) pure(`${script} notes`, spoken(read(`${stem}-notes.html`)), names);
        if (make('presentation', 'draw', script, '-o', `${stem}.odp`))
            for (const part of ['content.xml', 'meta.xml', 'styles.xml']) {
                const xml = run('unzip', ['-p', `${stem}.odp`, part]).stdout;
                if (part === 'meta.xml') pure(`${script} presentation, ${part}`, (/<dc:title>([^<]*)/.exec(xml)?.[1] ?? '') + ' .', names);
                else pure(`${script} presentation, ${part}`, spoken(xml.replace(/ draw:name="(?:[a-z]+\d*)"/g, '')) + ' .', names);
            }
    }
    for (const sheet of sheets) {
        for (const [name, more] of [['sheet', []], ['key', ['--key']], ['overlay', ['--overlay']]])
            if (make(name, 'draw', script, '--sheet', sheet, ...more, '-o', `${stem}-${sheet}-${name}.pdf`)) pure(`${script} ${sheet} ${name}`, [run('pdftotext', ['-layout', `${stem}-${sheet}-${name}.pdf`, '-']).stdout, ...aloud(`${stem}-${sheet}-${name}.pdf`)].join('\n'), names);
        for (const form of [[], ['--csv']]) pure(`${script} answers ${sheet} ${form}`, run(binary, ['answers', script, '--sheet', sheet, ...form]).stdout, names);
    }
    const crowded = run(binary, ['check', script, '--strict']);
    holds(crowded.status === 0 || spawnSync(binary, ['check', f, '--strict']).status !== 0, `${script}: texts that are longer crowd nothing`, crowded.stderr.slice(0, 300));
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed || !existsSync(join(work, 'marked.txt')) ? 1 : 0);
