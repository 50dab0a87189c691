// texts.mjs BINARY SCRIPT...: the alternative texts of every figure, in every language: sentences, what they must mention, their
// numbers against the solved values, and what a text of the givens may not know. Last line: "N passed, N failed".
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';

const [binary, ...scripts] = process.argv.slice(2).map(p => resolve(p));
const work = resolve('build/test/texts');
rmSync(work, { recursive: true, force: true });
let passed = 0, failed = 0;
function holds(good, name, more = '') {
    if (good) { passed++; return; }
    if (++failed < 20) console.log(`FAILED ${name}\n  ${more}`);
}
const lines = text => text.split('\n');
const wordingOf = language => Object.fromEntries(lines(readFileSync(`runtime/wordings/${language}.txt`, 'utf8')).filter(l => /^[a-z_0-9]+ = /.test(l)).map(l => [l.slice(0, l.indexOf(' ')), l.slice(l.indexOf(' = ') + 3)]));
const literal = s => s.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
// A text of a wording as a pattern: holes become groups of their names.
const pattern = text => new RegExp(literal(text).replace(/\\\{([a-z0-9_]+)\\\}/g, '(?<$1>(?:(?![.?!] ).)+?)'), 'gu');
// CSV with every text in quotes.
function table(csv) {
    const rows = [...csv.matchAll(/((?:"(?:[^"]|"")*"|[^,"\n]*)(?:,|\r?\n))/g)].map(m => m[1]);
    const out = [[]];
    for (const cell of rows) {
        out.at(-1).push(cell.replace(/(,|\r?\n)$/, '').replace(/^"|"$/g, '').replaceAll('""', '"'));
        if (!cell.endsWith(',')) out.push([]);
    }
    const head = out.shift();
    return out.filter(r => r.length === head.length).map(r => Object.fromEntries(head.map((h, i) => [h, r[i]])));
}

// ---- scripts ----

const said = (script, wording) => lines(script).filter(l => !/^\s*wording /.test(l)).map((l, i) => (i === 0 && wording ? `wording ${wording}; ${l}` : l)).join('\n');
// What stands between the brace at `at` and its partner; texts hold braces too.
function block(text, at) {
    let depth = 0, quoted = false;
    for (let i = at; i < text.length; i++) {
        if (quoted) { if (text[i] === '\\') i++; else if (text[i] === '"') quoted = false; continue; }
        if (text[i] === '#') { i = text.indexOf('\n', i); if (i < 0) break; }
        else if (text[i] === '"') quoted = true;
        else if (text[i] === '{') depth++;
        else if (text[i] === '}' && --depth === 0) return i;
    }
    return text.length;
}
function figureSources(text) {
    const of = {};
    for (const m of text.matchAll(/^figure ([\p{L}\p{N}_]+)([^\n]*)/gmu)) {
        const copy = /^\s*=\s*([\p{L}\p{N}_]+)/u.exec(m[2]), open = text.indexOf('{', m.index + m[0].search(/\{\s*$/));
        if (copy) of[m[1]] = of[copy[1]];
        else if (m[0].trimEnd().endsWith('{')) of[m[1]] = text.slice(open + 1, block(text, open));
    }
    return of;
}
// Every step without what stands in it, but for what is given there.
function emptied(text) {
    let out = '', at = 0;
    for (const m of text.matchAll(/^\s*step\b[^\n]*\{\s*$/gm)) {
        const open = m.index + m[0].lastIndexOf('{');
        if (m.index < at) continue;
        const end = block(text, open);
        out += `${text.slice(at, open)}{\n${lines(text.slice(open + 1, end)).filter(l => /\bgiven$/.test(l)).join('\n')}\n}`;
        at = end + 1;
    }
    return out + text.slice(at);
}

// ---- rules of one text ----

const balanced = text => [['(', ')'], ['[', ']'], ['“', '”'], ['«', '»']].every(([a, b]) => text.split(a).length === text.split(b).length);
function sentences(name, text) {
    const begins = [...text.matchAll(/(?:^|[.?!] )(\S)/gu)].map(m => m[1]);
    const small = [...text.matchAll(/(?:^|[.?!] )(\p{Ll}.{0,30})/gu)].map(m => m[1]);
    holds(begins.length > 0 && small.length === 0, `${name}: a sentence begins with a small letter`, small.join(' | '));
    holds(!/ {2}|\s$|^\s| [.,;](?!\S)|\.\.|\?\.|!\./u.test(text), `${name}: spaces and stops`, text);
    holds(!/[{}\\]|undefined|\bNaN\b/.test(text), `${name}: an open hole`, text);
    holds(!/, (its|it|ihre|sie|sa|elle|su) (first|second|erste|zweite|première|seconde|primera|segunda|is|ist|est|es)\b/u.test(text), `${name}: two sentences are joined by a comma`, text);
    holds(balanced(text), `${name}: a bracket stands open`, text);
}

// Numbers as the language writes them, in millimetres.
const toMm = { mm: 1, cm: 10, m: 1000 };
function told(text, decimal) {
    const m = /^(\d+(?:[.,]\d+)?)[\s\u2009\u00a0](mm|cm|m)$/u.exec(text.trim());
    if (!m) return null;
    const digits = m[1].split(decimal)[1]?.length ?? 0;
    return { value: Number(m[1].replace(',', '.')) * toMm[m[2]], half: 0.5 * 10 ** -digits * toMm[m[2]] };
}
// A number that is told is the solved one, to its last digit or, where it stands without its noughts, to a tenth.
function equal(name, text, decimal, mm) {
    const is = told(text, decimal), size = Math.abs(mm);
    holds(is && Math.abs(is.value - size) <= Math.min(is.half, 0.5) * 1.0001 + 1e-9, `${name}: ${text} is told, ${size} mm solved`);
}

function images(name, text, w, things) {
    let seen = 0;
    for (const key of ['before', 'behind', 'beyond']) {
        for (const m of text.matchAll(pattern(w[`tell_image_${key}`]))) {
            const image = things.find(t => t.kind === 'image' && t.shown === m.groups.name);
            if (!image) continue;
            const value = p => image.properties[p].value;
            seen++;
            equal(`${name} ${m.groups.name}.distance`, m.groups.d, w.decimal_mark, value('distance'));
            equal(`${name} ${m.groups.name}.height`, m.groups.h, w.decimal_mark, value('height'));
            if (image.properties.upright.state === 'known') {
                const way = value('upright') ? 'upright' : 'inverted', m2 = Math.abs(value('total_magnification'));
                const size = Math.abs(m2 - 1) < 1e-6 ? 'same' : m2 > 1 ? 'enlarged' : 'reduced';
                holds(m.groups.nature === w[`nature_${value('real') ? 'real' : 'virtual'}_${way}_${size}`], `${name}: nature of ${m.groups.name}`, m.groups.nature);
            }
        }
    }
    return seen;
}

// Each thing that the author declared and that is seen.
const NAMED = new Set(['mirror', 'lens', 'boundary', 'stop', 'screen', 'eye', 'object', 'image', 'point']);
function mentions(name, text, w, things) {
    const lights = { ray: w.tell_ray_parallel, beam: w.tell_beam_axis, fan: w.tell_fan };
    let n = 0;
    for (const t of things) {
        if (t.hidden) continue;
        if (NAMED.has(t.kind)) holds(!t.shown || text.includes(t.shown), `${name}: ${t.kind} ${t.shown} is not mentioned`, text);
        else if (lights[t.kind]) { n++; holds(text.includes(lights[t.kind].split('{n}')[0] + n), `${name}: ${t.kind} ${n} is not mentioned`, text); }
    }
}
// Marks have no names: as many sentences as statements, and more where a construction writes some.
const MARKS = { dimension: ['tell_dimension', 'tell_dimension_ticks'], angle: ['tell_angle', 'tell_angle_right'], label: ['tell_label'], note: ['tell_note'], normal: ['tell_normal'],
    produce: ['tell_produced_back', 'tell_produced_on'], line: ['tell_line', 'tell_line_arrow', 'tell_line_named', 'tell_line_arrow_named'], circle: ['tell_circle'], arc: ['tell_arc'], protractor: ['tell_protractor'], ruler: ['tell_ruler'],
    grid: ['tell_grid'], break: ['tell_break'] };
function marks(name, text, w, source) {
    for (const [kind, keys] of Object.entries(MARKS)) {
        const written = lines(source).flatMap(l => l.split(';')).filter(l => new RegExp(`^\\s*(?:step [^{]*\\{\\s*)?${kind}\\b`).test(l) && !/\bhidden\b/.test(l)).length;
        const sentences = keys.reduce((sum, k) => sum + [...text.matchAll(pattern(w[k]))].length, 0);
        holds(sentences >= written, `${name}: ${written} of ${kind} are written and ${sentences} told`, text);
    }
}

// ---- all of it ----

const run = (args, cwd) => spawnSync(binary, args, { cwd, encoding: 'utf8', maxBuffer: 1 << 28 });
const sources = Object.fromEntries(scripts.map(f => [f, readFileSync(f, 'utf8')]));
const folder = dirname(scripts[0]);
function thingsOf(json, source) {
    const all = lines(source);
    return json.things.map(t => {
        const line = all[t.line - 1], named = /\bnamed "([^"{]*)"/.exec(line);
        return { ...t, shown: named ? named[1].replace(/[*_^\\]/g, '') : t.name, hidden: /\bhidden\b/.test(line) };
    });
}
let told_images = 0, same_given = 0;
for (const language of ['english', 'german', 'french', 'spanish']) {
    const w = wordingOf(language), at = join(work, language);
    for (const f of scripts) {
        const to = join(at, f.slice(folder.length + 1));
        mkdirSync(dirname(to), { recursive: true });
        writeFileSync(to, said(sources[f], language));
    }
    const names = scripts.map(f => f.slice(folder.length + 1));
    const drawn = run(['draw', ...names, '-o', 'out/', '--apart', '--texts', 'texts.csv'], at);
    holds(drawn.status === 0, `${language}: all demos are drawn`, drawn.stderr);
    const rows = table(readFileSync(join(at, 'texts.csv'), 'utf8'));
    const by = {};
    for (const row of rows) (by[row.file.split('/').at(-2)] ??= []).push(row);
    for (const script of names) {
        const stem = basename(script, '.sag'), source = said(sources[join(folder, script)], language);
        const solved = run(['solve', script, '--json'], at);
        const figures = solved.status === 0 ? JSON.parse(solved.stdout).figures : [], texts = figureSources(source);
        for (const row of by[stem] ?? []) {
            const name = `${language} ${script} ${row.figure}`, own = texts[row.figure] ?? '', count = [...row.short].length;
            holds(count > 8 && count <= 150, `${name}: a short text of ${count} characters`, row.short);
            sentences(name, row.long);
            sentences(`${name} (short)`, row.short);
            const figure = figures.find(x => x.figure === row.figure);
            if (!figure) continue;
            const things = thingsOf(figure, source);
            told_images += images(name, row.long, w, things);
            mentions(name, row.long, w, things.filter(t => !t.hidden));
            if (own) marks(name, row.long, w, own);
        }
    }
    // A file a step: each tells as much as it shows, in the list as in itself.
    const framed = run(['draw', 'pool_lens.sag', '-o', 'frames/', '--frames', '--texts', 'frames.csv'], at), frames = framed.status === 0 ? table(readFileSync(join(at, 'frames.csv'), 'utf8')) : [];
    holds(frames.length === 5, `${language}: a text for each of ${frames.length} frames`, framed.stderr);
    frames.forEach((row, k) => {
        const svg = readFileSync(join(at, row.file), 'utf8'), desc = /<desc id[^>]*>([^<]*)/.exec(svg)?.[1].replaceAll('&quot;', '"').replaceAll('&gt;', '>').replaceAll('&lt;', '<').replaceAll('&amp;', '&');
        holds(desc === row.long && row.long.length > 100, `${language}: frame ${k} tells what its list tells`, `${desc}\n  ${row.long}`);
        holds([...row.short].length <= 150 && (k === 4) === row.short.includes(w.nature_virtual_upright_reduced), `${language}: frame ${k} in short`, row.short);
        sentences(`${language} frame ${k}`, row.long);
    });
    // What is given, told with the answers there and without them.
    for (const f of scripts) writeFileSync(join(at, 'empty-' + basename(f)), emptied(said(sources[f], language)));
    for (const script of names.filter(n => !n.includes('/'))) {
        const full = run(['draw', script, '--step', '0', '-o', 'given/', '--apart'], at), bare = run(['draw', 'empty-' + script, '--step', '0', '-o', 'given/', '--apart'], at);
        if (full.status !== 0 || bare.status !== 0) continue;             /* its givens are told by what stands in a step */
        const one = join(at, 'given', basename(script, '.sag')), two = join(at, 'given', 'empty-' + basename(script, '.sag'));
        for (const svg of readdirSync(one)) {
            const [a, b] = [one, two].map(d => /<desc[^>]*>([^]*?)<\/desc>/.exec(readFileSync(join(d, svg), 'utf8'))?.[1]);
            same_given++;
            holds(a !== undefined && a === b, `${language} ${svg}: what is given is told with the answers in mind`, `${a}\n  ${b}`);
        }
    }
}
holds(told_images >= 300, `${told_images} images were held against their values`);
holds(same_given >= 150, `${same_given} texts of the givens were compared`);
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
