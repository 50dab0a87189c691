// The man pages, as mdoc(7), from the table of commands and the words of the language. No clock: the date is that of the version.
const DATE = 'November 25, 2026'

// Texts for roff: its own signs made plain, and no line that begins with a control sign.
const plain = s => s.replace(/\\/g, '\\e').replace(/-/g, '\\-').replace(/[‘’']/g, "\\(cq").replace(/°/g, '\\(de').replace(/µ|μ/g, '\\(mc').replace(/′/g, '\\(fm')
const prose = s => plain(s).replace(/\\-/g, '-').replace(/([.:;!?]) (?=[A-Z])/g, '$1\n').replace(/^(?=[.'])/gm, '\\&')
const argument = s => s.split(' ').map(w => /^[A-Z][a-z]?$|^[a-z]{2}$/.test(w) ? `\\&${plain(w)}` : plain(w)).join(' ')

// COMMAND and OPTION lines of options.def, the one table of the command line.
export function commandTables(source) {
    const rows = name => [...source.matchAll(new RegExp(`^${name}\\((\\w+), (.*)\\)$`, 'gm'))]
    const texts = s => [...s.matchAll(/"((?:[^"\\]|\\.)*)"/g)].map(m => m[1].replace(/\\(.)/g, '$1'))
    const options = rows('OPTION').map(([, word, rest]) => {
        const [value, doc] = texts(rest)
        return { word, letter: (rest.match(/^'(.)'/) ?? [, ''])[1], value, doc, everywhere: /EVERYWHERE/.test(rest), of: [...rest.matchAll(/IN\((\w+)\)/g)].map(m => m[1]) }
    })
    const commands = rows('COMMAND').map(([, word, rest]) => {
        const [operands, doc] = texts(rest)
        return { word, operands, doc, options: options.filter(o => o.of.includes(word)) }
    })
    return { commands, everywhere: options.filter(o => o.everywhere) }
}

const item = o => `.It ${o.letter ? `Fl ${o.letter} , ` : ''}Fl \\-${plain(o.word)}${o.value ? ` Ar ${argument(o.value)}` : ''}\n${prose(o.doc)}`

export function mainPage({ commands, everywhere }, version) {
    const parts = [`.Dd ${DATE}\n.Dt SAGITTA 1\n.Os\n.Sh NAME\n.Nm sagitta\n.Nd solve and draw the constructions of optics from a script\n.Sh SYNOPSIS`]
    for (const c of commands) parts.push(`.Nm sagitta ${c.word}${c.operands ? ` ${c.operands.split(' ').map(w => w === '-o' ? 'Fl o' : w.endsWith('...') ? `Ar ${w.slice(0, -3)} ...` : /^\[/.test(w) ? `Op Ar ${w.slice(1, -1)}` : `Ar ${w}`).join(' ')}` : ''}`)
    parts.push('.Sh DESCRIPTION\n.Nm\nreads a script in the language of\n.Xr sagitta 5 ,\nworks out the optics, and writes figures, numbers or messages.\nA\n.Ar FILE\nthat is\n.Sq \\-\nis standard input.')
    for (const c of commands) {
        parts.push(`.Ss ${c.word}\n${prose(c.doc)}`)
        if (c.options.length) parts.push(`.Bl -tag -width Ds\n${c.options.map(item).join('\n')}\n.El`)
    }
    parts.push(`.Ss Every command takes\n.Bl -tag -width Ds\n${everywhere.map(item).join('\n')}\n.El`)
    parts.push('.Sh EXIT STATUS\n.Bl -tag -width Ds\n.It 0\nDone.\n.It 1\nA script is wrong; the messages on standard error say where and how to mend it.\n.It 2\nThe command line is wrong, or a file it names is not there.\n.It 3\nThe machine failed: a disk or memory.\n.El\nOutput is written whole or not at all.')
    parts.push('.Sh EXAMPLES\nEvery figure of a script, one file each:\n.Pp\n.Dl sagitta draw shaving.sag \\-o figures/\n.Pp\nOne value in full precision:\n.Pp\n.Dl sagitta ask shaving.sag flame.distance')
    parts.push('.Sh SEE ALSO\n.Xr sagitta 5')
    parts.push(`.Sh CAUTIONS\nLooking into the Sun, a laser, or a mirror or lens that gathers sunlight blinds and burns.\nWhere a lesson does either, follow the local rules and ask the safety officer of the school first.`)
    return `.\\" Version ${version}\n${parts.join('\n')}\n`
}

const phrase = p => `.It Cm ${plain(p.word)}${p.takes ? ` Ar ${argument(p.takes)}` : ''}\n${prose(p.doc)}${p.default !== null ? `\nWithout it\n.Ql ${plain(p.default)} .` : p.need === 'needed' ? '\nNeeded.' : p.need === 'free' ? '' : `\n${p.need[0].toUpperCase()}${p.need.slice(1)} of ${p.of.join(', ')}.`}`
const list = (rows, width = 'Ds') => rows.length ? `.Bl -tag -width ${width}\n${rows.join('\n')}\n.El` : ''

export function languagePage(words) {
    const parts = [`.Dd ${DATE}\n.Dt SAGITTA 5\n.Os\n.Sh NAME\n.Nm sagitta\n.Nd the language of optics constructions\n.Sh DESCRIPTION`,
        'A script is UTF-8 text.\nA statement is a kind, perhaps a name, and phrases in any order; it ends with its line, with\n.Sq \\&;\nor with the brace that closes its block.\nLengths and angles carry units, written after the number.\nLight runs from left to right.\nA sign # begins a comment.',
        '.Bd -literal -offset indent\nfigure lamp "Lamp before a lens" {\n    lens L converging focal 3 cm at 8 cm\n    object lamp height 1 cm at 5 cm before L\n    construct picture of lamp by L\n}\n.Ed']
    for (const group of [...new Set(words.kinds.map(k => k.group))]) {
        parts.push(`.Sh ${group.toUpperCase()}`)
        for (const k of words.kinds.filter(x => x.group === group)) {
            parts.push(`.Ss ${k.word}\n${prose(k.doc)}`)
            if (k.phrases.length) parts.push(list(k.phrases.map(phrase)))
            if (k.properties.length) parts.push(`Properties:\n${list(k.properties.map(p => `.It Cm .${plain(p.word)}\n${prose(p.doc)}`))}`)
        }
    }
    parts.push(`.Sh EVERYTHING DRAWN TAKES\n${list(words.common.map(phrase))}`)
    parts.push(`.Sh FUNCTIONS\n${list(words.functions.map(f => `.It Cm ${plain(f.word)}\n${prose(f.doc)}`))}`)
    parts.push(`.Sh UNITS\n${list(words.units.map(u => `.It Cm ${argument(u.spelling)}\n${prose(u.doc)}`))}`)
    parts.push('.Sh SEE ALSO\n.Xr sagitta 1')
    return `${parts.join('\n')}\n`
}
