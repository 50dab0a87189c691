// demo_words.mjs BINARY SCRIPT...: every word of the catalogue is used in some demo: kinds, their phrases and properties, what
// all drawn things take, functions. Last line: "N passed, N failed".
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

// Words that no figure can use: the model is told of and not there yet.
const LATER = new Set(['model: exact']);
const [binary, ...scripts] = process.argv.slice(2);
const catalogue = JSON.parse(execFileSync(binary, ['words', '--json'], { encoding: 'utf8' }));
const text = scripts.map(f => readFileSync(f, 'utf8').split('\n').filter(l => !l.trimStart().startsWith('#')).join('\n')).join('\n').replace(/([,+*/-]|and|or)\n\s+/g, '$1 ');
let passed = 0;
const unused = [];
const need = (name, used) => { if (used) passed++; else if (!LATER.has(name)) unused.push(name); };
// What stands from here to the brace that closes this block: its phrases may have lines of their own.
const block = at => {
    let end = at;
    for (let depth = 1; depth && end < text.length; end++) depth += text[end] === '{' ? 1 : text[end] === '}' ? -1 : 0;
    return text.slice(at, end);
};
for (const kind of catalogue.kinds) {
    const lines = [...text.matchAll(new RegExp(`(?:^|[;{\\n])\\s*${kind.word}\\b[^\\n]*`, 'g'))].map(m => m[0].endsWith('{') ? m[0] + block(m.index + m[0].length) : m[0]).join('\n');
    need(`kind ${kind.word}`, lines);
    for (const phrase of kind.phrases) need(`${kind.word}: ${phrase.word}`, new RegExp(`\\b${phrase.word}\\b`).test(lines));
    for (const property of kind.properties) need(`${kind.word}.${property.word}`, new RegExp(`\\.${property.word}\\b`).test(text));
}
for (const phrase of catalogue.common) need(`common ${phrase.word}`, new RegExp(`\\b${phrase.word}\\b`).test(text));
for (const f of catalogue.functions) need(`function ${f.word}`, text.includes(`${f.word}(`));
for (const word of unused) console.log(`no demo uses ${word}`);
console.log(`${passed} passed, ${unused.length} failed`);
process.exit(unused.length || !passed ? 1 : 0);
