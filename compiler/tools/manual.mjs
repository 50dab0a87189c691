// manual.mjs BINARY FOLDER: writes the reference manual and the man pages into FOLDER.
//   in     the chapters of runtime/manual/ (CommonMark with tables), the words the program tells of itself (words --json), the
//          tables of its commands, and in kinds/ an example of each kind.
//   out    manual.html, one page that needs no other file; sagitta.1 and sagitta.5; the examples as files in FOLDER/examples/.
//   never  shows a script that was not compiled and drawn, or a message or answer that the program did not give: then it fails.
//
// Fences in a chapter:   sag NAME          a script: saved as NAME.sag, drawn with --strict, its figures below it
//                        sag NAME code     the same without pictures       sag NAME steps    a picture of each step
//                        sag NAME wrong    a script with a mistake; a fence `says` follows with the exact message
//                        part NAME         lines of a figure; the lines <!-- NAME ... --> stand before them in its figure
//                        shell             commands, run in the folder of the scripts; a fence `says` follows where they say something
// Lines of a chapter:    @kinds GROUP, @common, @functions, @names, @values, @units, @messages, @commands, @file PATH
import { execFileSync, spawnSync } from 'node:child_process'
import { mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync, existsSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { commandTables, mainPage, languagePage } from './manual_pages.mjs'

const [binary, folder] = process.argv.slice(2).map(path => resolve(path))
const chapters = 'runtime/manual', examples = join(folder, 'examples')
const path = `${join(folder, 'bin')}:${process.env.PATH}`
const faults = []
let shown = 0
const fault = text => { faults.push(text); return '' }
const escape = s => s.replace(/[&<>"]/g, c => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c])
const code = s => `<code>${escape(s)}</code>`
const slug = s => s.toLowerCase().replace(/<[^>]*>|&[a-z]+;/g, '').replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '')
const run = (...args) => spawnSync(binary, args, { cwd: examples, encoding: 'utf8' })

// ---- pictures ----
const decode = s => s.replace(/&lt;/g, '<').replace(/&gt;/g, '>').replace(/&quot;/g, '"').replace(/&amp;/g, '&')
function picture(svg, caption) {
    const told = tag => decode((svg.match(new RegExp(`<${tag}[^>]*>([^<]*)</${tag}>`)) ?? [, ''])[1])
    const data = Buffer.from(svg).toString('base64')
    const [, width] = svg.match(/ width="([\d.]+)mm"/)
    shown++
    return `<figure><img style="width:${width}mm" alt="${escape(told('desc') || told('title'))}" src="data:image/svg+xml;base64,${data}">`
        + `<figcaption>${escape(caption ?? told('title'))}</figcaption></figure>`
}
function draw(name, ...options) { // every figure of NAME.sag, in the script's order
    const made = run('draw', `${name}.sag`, '--strict', '-o', `${name}/`, '--manifest', `${name}.json`, ...options)
    if (made.status !== 0) { fault(`${name}: status ${made.status}\n${made.stderr}`); return [] }
    return JSON.parse(readFileSync(join(examples, `${name}.json`), 'utf8')).outputs.map(o => ({ ...o, svg: readFileSync(join(examples, o.path), 'utf8') }))
}
const pictures = name => draw(name, '--still').map(o => picture(o.svg)).join('')
function steps(name) {
    const [figure] = draw(name, '--still')
    if (!figure) return ''
    const all = Array.from({ length: figure.steps + 1 }, (_, k) =>
        picture(draw(name, '--still', '--step', `${k}`, '--figure', figure.figure)[0].svg, k ? `After step ${k}` : 'What is given'))
    return `<div class="steps">${all.join('')}</div>`
}

// ---- examples ----
const listing = (text, kind) => `<pre class="${kind}" tabindex="0"><code>${escape(text)}</code></pre>`
const save = (name, text) => writeFileSync(join(examples, `${name}.sag`), text)
function tidied(name) {
    const left = run('tidy', '--check', `${name}.sag`)
    if (left.status !== 0) fault(`${name} is not in the one layout of scripts; it should be:\n${spawnSync(binary, ['tidy', '-'], { input: readFileSync(join(examples, `${name}.sag`), 'utf8'), encoding: 'utf8' }).stdout}`)
}
function script(name, how, text) {
    save(name, text)
    if (how === 'code') { draw(name); tidied(name); return listing(text, 'script') }
    if (how === 'wrong') return listing(text, 'script wrong')
    tidied(name)
    return listing(text, 'script') + (how === 'steps' ? steps(name) : pictures(name))
}
function part(prelude, text, preludes) {
    const name = `part_${++shown}`
    if (!(prelude in preludes)) return fault(`there are no lines called ${prelude} to stand before a part`)
    save(name, `figure ${name} {\n${preludes[prelude]}\n${text}}\n`)
    const checked = run('check', '--strict', `${name}.sag`)
    if (checked.status !== 0) fault(`${name}, after ${prelude}:\n${checked.stderr}`)
    return listing(text, 'script')
}
const clean = s => s.replaceAll(examples, '.')
function shell(text) {
    const made = spawnSync('bash', ['-e', '-c', text], { cwd: examples, encoding: 'utf8', env: { ...process.env, PATH: path, LC_ALL: 'C' } })
    return { status: made.status, said: clean(made.stdout + made.stderr) }
}
function says(wanted, last) { // what the last script or commands said
    if (!last) return fault(`nothing stands before this to say\n${wanted}`)
    const said = last.name ? clean(run('check', `${last.name}.sag`).stderr) : last.said
    if (said.trimEnd() !== wanted.trimEnd()) fault(`${last.name ?? 'the commands'} said\n${said}\nand not\n${wanted}`)
    last.heard = true
    return listing(wanted, 'says')
}

// ---- what the program tells of itself ----
const words = JSON.parse(execFileSync(binary, ['words', '--json'], { encoding: 'utf8' }))
const commands = commandTables(readFileSync('compiler/cli/options.def', 'utf8'))
const table = (heads, rows) => rows.length === 0 ? '' : `<table><thead><tr>${heads.map(h => `<th scope="col">${h}</th>`).join('')}</tr></thead><tbody>`
    + rows.map(r => `<tr>${r.map((c, i) => i === 0 ? `<th scope="row">${c}</th>` : `<td>${c}</td>`).join('')}</tr>`).join('') + '</tbody></table>'
const need = p => p.default !== null ? `without it ${code(p.default)}` : p.need === 'needed' ? 'needed'
    : p.need === 'free' ? '' : `${p.need} of ${p.of.map(code).join(', ')}`
const phraseRows = list => list.map(p => [code(`${p.word}${p.takes ? ` ${p.takes}` : ''}`), escape(p.doc), need(p)])
const written = k => code(k.word + (k.name === 'must' ? ' NAME' : k.name === 'may' ? ' [NAME]' : k.name === 'condition' ? ' CONDITION' : k.name === 'values' ? ' VALUE' : ''))

const uses = (text, word) => new RegExp(`^\\s*(${word})\\b`, 'm').test(text)
const STEPPED = ['step', 'show', 'fade', 'hide', 'emphasise']          // what changes from step to step
function exampleOf(kind) {
    const own = join(chapters, 'kinds', `${kind.word}.sag`)
    const name = `kind_${kind.word}`
    if (!existsSync(own)) return fault(`${kind.word} needs an example of its own: ${own}`)
    const text = readFileSync(own, 'utf8')
    if (!uses(text, kind.word)) fault(`${own} does not use ${kind.word}`)
    return script(name, STEPPED.includes(kind.word) ? 'steps' : '', text)
}
function kindSection(k) {
    return `<section class="kind"><h3 id="kind-${k.word}">${escape(k.word)}</h3><p>${escape(k.doc)} Written ${written(k)}, in ${k.stands.map(s => s === 'file' ? 'the file' : `a ${s}`).join(' or ')}`
        + (k.drawn ? '; it takes also <a href="#everything-drawn">what everything drawn takes</a>' : '') + '.</p>'
        + table(['phrase', 'says', ''], phraseRows(k.phrases))
        + table(['property', 'is'], k.properties.map(p => [code(`.${p.word}`), `${escape(p.doc)} <span class="sort">${escape(p.is.toLowerCase())}</span>`]))
        + exampleOf(k) + '</section>'
}
// Limits as the headers state them, so that no number here can grow old.
const LIMITS = [
    ['a script', 'tokens/tokens.h', 'SG_MAX_SCRIPT', 'bytes'], ['a script with all it uses', 'load.h', 'SG_MAX_ALL_BYTES', 'bytes'],
    ['files of a script and what it uses', 'load.h', 'SG_MAX_FILES'], ['files that use files, deep', 'load.h', 'SG_MAX_USE_DEPTH'],
    ['figures of a file', 'model/model.h', 'SG_MAX_FIGURES'], ['statements of a figure, or of a file outside its figures', 'words/words.h', 'SG_MAX_STATEMENTS'],
    ['steps of a figure', 'model/model.h', 'SG_MAX_STEPS'], ['find in a figure', 'model/model.h', 'SG_MAX_FINDS'],
    ['versions', 'solved/solved.h', 'SG_MAX_VERSIONS'], ['candidates of a pick', 'solved/solved.h', 'SG_MAX_CANDIDATES'],
    ['combinations tried for a group of picks', 'solved/solved.h', 'SG_MAX_COMBINATIONS'],
    ['rays of a beam or fan', 'solved/rays.c', 'MOST_RAYS'], ['paths of light in a figure', 'solved/solved.h', 'SG_MAX_PATHS'],
    ['surfaces that one ray meets', 'optics/optics.h', 'SG_MAX_HITS'], ['blocks inside blocks', 'words/words.h', 'SG_MAX_BLOCKS'],
    ['brackets inside brackets', 'words/words.h', 'SG_MAX_BRACKETS'], ['a name', 'tokens/tokens.h', 'SG_MAX_NAME', 'bytes'], ['a text', 'tokens/tokens.h', 'SG_MAX_TEXT', 'bytes'],
    ['digits of a number', 'base/num.c', 'MOST_DIGITS'], ['drawings of one script together', 'run.h', 'SG_OUTPUT_LIMIT', 'bytes'],
    ['messages shown', 'messages/messages.h', 'SG_MAX_MESSAGES'],
]
function limit([what, file, name, unit]) {
    const found = readFileSync(join('compiler', file), 'utf8').match(new RegExp(`\\b${name} = ([0-9* ]+)`))
    if (!found) return fault(`no ${name} in ${file}`)
    const n = found[1].split('*').reduce((a, b) => a * b, 1)
    return [what, unit && n >= 2 ** 20 ? `${n / 2 ** 20} MiB` : `${n}${unit ? ` ${unit}` : ''}`]
}
const sections = {
    limits: () => table(['what', 'at most'], LIMITS.map(limit)),
    kinds: group => words.kinds.filter(k => k.group === group).map(kindSection).join('') || fault(`no group ${group}`),
    common: () => table(['phrase', 'says', ''], phraseRows(words.common)),
    functions: () => table(['function', 'gives'], words.functions.map(f => [code(f.word), escape(f.doc)])),
    names: () => table(['name', 'is'], words.names.map(n => [code(n.word), escape(n.doc)])),
    values: () => table(['written', 'is'], words.values.map(v => [code(v.takes), escape(v.doc)])),
    units: () => table(['unit', 'is'], words.units.map(u => [code(u.spelling), escape(u.doc)])),
    messages: () => words.messages.map(m => `<h3 id="message-${m.code}">${escape(m.title)}</h3><p>${code(m.code)}, ${m.severity === 'error' ? 'a mistake' : 'a warning'}. ${escape(m.explanation)}</p>`).join(''),
    commands: () => commands.commands.map(c => `<h3 id="command-${c.word}">sagitta ${escape(c.word)}</h3><p>Written ${code(`sagitta ${c.word} ${c.operands}`.trim())}. ${escape(c.doc)}</p>`
        + table(['option', 'does'], c.options.map(o => [code(`${o.letter ? `-${o.letter}, ` : ''}--${o.word}${o.value ? ` ${o.value}` : ''}`), escape(o.doc)]))).join(''),
    file: file => listing(readFileSync(file, 'utf8'), 'script'),
}

// ---- chapters ----
function chapter({ file, text: source }) {
    const blocks = [], preludes = {}
    let last = null
    const keep = html => `\n\nBLOCK-${blocks.push(html) - 1}-\n\n`
    const finish = () => { if (last && !last.heard && (last.status ?? 1) !== 0) fault(`${file}: ${last.name ?? last.text} should be followed by what is said: ${last.said ?? run('check', `${last.name}.sag`).stderr}`) }
    const text = source
        .replace(/<!-- (\w+)\n([\s\S]*?)-->\n/g, (_, name, lines) => { preludes[name] = lines; return '' })
        .replace(/^```(\w+)(.*)\n([\s\S]*?)^```$|^@(\w+)(.*)$/gm, (_, fence, rest, body, line, after) => {
            if (line) return keep(sections[line] ? sections[line](after.trim()) : fault(`${file}: @${line} is unknown`))
            const [name, how] = rest.trim().split(' ')
            if (fence === 'says') return keep(says(body, last))
            finish()
            last = null
            if (fence === 'sag') { const html = script(name, how, body); if (how === 'wrong') last = { name }; return keep(html) }
            if (fence === 'part') return keep(part(name, body, preludes))
            if (fence === 'shell') { last = { text: body, ...shell(body) }; return keep(listing(body, 'shell')) }
            return keep(listing(body, fence))
        })
    finish()
    const html = execFileSync('cmark-gfm', ['--unsafe', '-e', 'table', '-t', 'html'], { input: text, encoding: 'utf8' })
    return html.replace(/<p>BLOCK-(\d+)-<\/p>/g, (_, k) => blocks[k]).replace(/<(th|td)( align="\w+")?>/g, '<$1>')
}
// Groups of kinds that no chapter shows get one of their own, behind the last that shows some.
function withEveryGroup(sources) {
    const of = text => [...text.matchAll(/^@kinds (.*)$/gm)].map(m => m[1])
    const seen = sources.flatMap(s => of(s.text)), last = sources.findLastIndex(s => of(s.text).length > 0)
    const missing = [...new Set(words.kinds.map(k => k.group))].filter(g => !seen.includes(g))
    const more = missing.map(g => ({ file: g, text: `# Reference: ${g.toLowerCase()}\n\n@kinds ${g}\n` }))
    return [...sources.slice(0, last + 1), ...more, ...sources.slice(last + 1)]
}
function numbered(html, number) { // headings get ids; the chapter is told to the list of contents
    const inside = []
    const body = html.replace(/<h([12])>(.*?)<\/h\1>/g, (_, level, title) => {
        const id = slug(title)
        inside.push({ level: +level, id, title })
        return `<h${+level + 1} id="${id}">${level === '1' ? `${number}. ` : ''}${title}</h${+level + 1}>`
    })
    const kinds = [...body.matchAll(/<h3 id="(kind-\w+)">(\w+)<\/h3>/g)].map(m => `<a href="#${m[1]}">${m[2]}</a>`)
    const list = inside.filter(h => h.level === 2).map(h => `<li><a href="#${h.id}">${h.title}</a></li>`).join('')
    return { body: `<section>${body}</section>`, contents: `<li><a href="#${inside[0].id}">${inside[0].title}</a>${kinds.length ? `<p class="kinds">${kinds.join(' ')}</p>` : ''}${list ? `<ul>${list}</ul>` : ''}</li>` }
}

rmSync(folder, { recursive: true, force: true })
mkdirSync(examples, { recursive: true })
mkdirSync(join(folder, 'bin'))
writeFileSync(join(folder, 'bin', 'sagitta'), `#!/bin/sh\nexec '${binary.replaceAll("'", "'\\''")}' "$@"\n`, { mode: 0o755 })
const sources = readdirSync(chapters).filter(f => /^\d.*\.md$/.test(f)).sort().map(file => ({ file, text: readFileSync(join(chapters, file), 'utf8') }))
const parts = withEveryGroup(sources).map((source, i) => numbered(chapter(source), i + 1))
const page = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>Sagitta: the manual</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<style>
${readFileSync(join(chapters, 'manual.css'), 'utf8')}</style>
</head>
<body>
<a class="skip" href="#text">Go to the text</a>
<header><h1>Sagitta: the manual</h1><p>Version ${words.version}</p></header>
<nav aria-label="Contents"><h2>Contents</h2><ol>${parts.map(p => p.contents).join('\n')}</ol></nav>
<main id="text">
${parts.map(p => p.body).join('\n')}
</main>
</body>
</html>
`
const ids = [...page.matchAll(/ id="([^"]*)"/g)].map(m => m[1])
ids.filter((id, i) => ids.indexOf(id) !== i).forEach(id => fault(`two headings have the id ${id}`))
for (const [, to] of page.matchAll(/ href="#([^"]*)"/g)) if (!ids.includes(to)) fault(`a link leads to #${to}, which is not there`)
rmSync(join(folder, 'bin'), { recursive: true })
if (faults.length) {
    console.error(`the manual does not hold:\n\n${faults.join('\n\n')}`)
    process.exit(1)
}
writeFileSync(join(folder, 'manual.html'), page)
writeFileSync(join(folder, 'sagitta.1'), mainPage(commands, words.version))
writeFileSync(join(folder, 'sagitta.5'), languagePage(words))
console.log(`${shown} pictures and parts: open ${join(process.argv[3], 'manual.html')}`)
