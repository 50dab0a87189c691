// sheet.mjs SAGITTA SCRIPT...: sheets, keys and overlays from outside: true scale in the PDF by its own coordinates and by
// pixels, nothing of the answer on the sheet, nothing moved in the key, answers that equal what `answers` tells.
// Last line: "N passed, N failed".
import { execFileSync } from "node:child_process";
import { mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { basename } from "node:path";

const [binary, ...scripts] = process.argv.slice(2);
const work = "build/test/sheet";
rmSync(work, { recursive: true, force: true });
mkdirSync(work, { recursive: true });
let passed = 0, failed = 0;
function holds(name, good, more = "") {
    if (good) { passed++; return; }
    failed++;
    console.log(`FAILED ${name} ${more}`);
}
const run = (program, ...args) => execFileSync(program, args, { encoding: "utf8", maxBuffer: 1 << 28, stdio: ["ignore", "pipe", "pipe"] });
function fails(...args) {
    try { run(binary, ...args); } catch (e) { return { status: e.status, said: e.stderr }; }
    return { status: 0, said: "" };
}

// The straight strokes of a page, in millimetres, as the PDF itself has them (its own coordinates, not ours).
function strokes(pdf, page) {
    const list = [];
    const trace = run("mutool", "trace", pdf, String(page));
    for (const m of trace.matchAll(/<stroke_path[^>]*transform="([^"]*)"[^>]*>\s*((?:<(?:moveto|lineto)[^>]*>\s*)+)/g)) {
        const [a, b, c, d, e, f] = m[1].split(/\s+/).map(Number);
        const points = [...m[2].matchAll(/x="([^"]*)" y="([^"]*)"/g)].map(([, x, y]) => [(a * x + c * y + e) * 25.4 / 72, (b * x + d * y + f) * 25.4 / 72]);
        if (points.length === 2) list.push(points);
    }
    return list;
}
const close = (x, y, by) => Math.abs(x - y) <= by;
function bars(pdf, page) {
    const lying = strokes(pdf, page).filter(([p, q]) => close(p[1], q[1], 0.01) && close(Math.abs(p[0] - q[0]), 100, 0.05));
    const upright = strokes(pdf, page).filter(([p, q]) => close(p[0], q[0], 0.01) && close(Math.abs(p[1] - q[1]), 100, 0.05));
    return [lying.length, upright.length, lying[0]];
}
// The bar again, by its ink at 254 pixels an inch: ten a millimetre.
function barPixels(pdf, bar) {
    run("pdftoppm", "-r", "254", "-f", "1", "-l", "1", "-gray", pdf, `${work}/pixels`);
    const file = readdirSync(work).find((n) => n.startsWith("pixels") && n.endsWith(".pgm"));
    const bytes = readFileSync(`${work}/${file}`);
    const [, w] = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 40).toString("latin1"));
    const head = /^P5\s+\d+\s+\d+\s+255\s/.exec(bytes.subarray(0, 40).toString("latin1"))[0].length;
    const y = Math.round(bar[0][1] * 10), left = Math.round(Math.min(bar[0][0], bar[1][0]) * 10) - 20;
    let dark = [];
    for (let x = left; x < left + 1060; x++)
        if ([y - 2, y - 1, y, y + 1].some((r) => bytes[head + r * Number(w) + x] < 128)) dark.push(x);
    rmSync(`${work}/${file}`);
    return dark[dark.length - 1] - dark[0] + 1;
}
function items(svg) { return new Set(svg.split("\n").filter((l) => /<(path|line|circle|use|polyline|polygon)/.test(l))); }

for (const script of scripts) {
    const name = basename(script, ".sag"), pdf = `${work}/${name}.pdf`, key = `${work}/${name}-key.pdf`;
    run(binary, "draw", script, "-o", pdf);
    run(binary, "draw", script, "--key", "-o", key);
    run("qpdf", "--check", pdf);
    run("qpdf", "--check", key);
    const again = `${work}/again.pdf`;
    run(binary, "draw", script, "-o", again);
    holds(`${name}: the same bytes twice`, readFileSync(pdf).equals(readFileSync(again)));
    const [lying, upright, bar] = bars(pdf, 1);
    holds(`${name}: a bar of 100 mm each way by the PDF's coordinates`, lying >= 1 && upright >= 1, `${lying} ${upright}`);
    const px = bar ? barPixels(pdf, bar) : 0;
    holds(`${name}: the bar by pixels at 254 dpi`, close(px, 1002, 4), `${px} px`);

    const answers = JSON.parse(run(binary, "answers", script, "--json"));
    const text = run("pdftotext", "-layout", pdf, "-").replace(/[\u2009\u202f\u00a0]/g, " "), keyText = run("pdftotext", "-layout", key, "-").replace(/[\u2009\u202f\u00a0]/g, " ");
    const flat = JSON.stringify(answers);
    let asked = 0;
    for (const version of answers.versions ?? []) for (const problem of version.problems ?? []) for (const a of problem.answers ?? []) {
        if (typeof a.value !== "number" || !["cm", "mm", "m"].includes(a.unit)) continue;
        asked++;
        const shown = String(Math.round(Math.abs(a.value) * 10) / 10);
        holds(`${name}: version ${version.version}, ${problem.name}, ${a.asked} = ${shown} ${a.unit} stands on the key`, new RegExp(`${a.asked.split(".")[0]}: ${a.asked.split(".")[1].replace("focal", "focal length")} \u2212?${shown.replace(".", "\\.")} ${a.unit}`).test(keyText));
    }
    holds(`${name}: it asks for lengths`, asked >= 2, flat.slice(0, 300));
    holds(`${name}: no answer is written on the sheet`, !/: (distance|height|magnification) /.test(text));

    const folder = `${work}/${name}/`, keys = `${work}/${name}-key/`;
    run(binary, "draw", script, "--sheet", answers.sheet, "-o", folder);
    run(binary, "draw", script, "--key", "-o", keys);
    for (const page of readdirSync(folder)) {
        const mine = items(readFileSync(folder + page, "utf8"));
        const theirs = readdirSync(keys).map((k) => items(readFileSync(keys + k, "utf8")));
        const best = Math.min(...theirs.map((t) => [...mine].filter((l) => !t.has(l)).length));
        // The foot counts other pages on the key; everything else stands in it, unmoved.
        holds(`${name}: all of ${page} stands on a page of the key`, mine.size > 20 && best <= 12, `${best} of ${mine.size}`);
    }
}

// The numbers a student reads in the text, by the mirror equation 1/u + 1/v = 1/f (OpenStax University Physics 3, ch. 2), and
// what the script requires of each version and of all: nothing here is the program's own arithmetic.
function versions(script, ...more) {
    return JSON.parse(run(binary, "answers", script, "--json", ...more)).versions;
}
const mirrors = scripts.find((s) => basename(s) === "curved_mirrors.sag");
if (mirrors) {
    const told = versions(mirrors), places = [];
    for (const { version, problems } of told) {
        const { question, answers } = problems.find((p) => p.problem === "shaving");
        const [, u, f] = /stands ([\d.]+)\s*cm before a concave mirror of focal length ([\d.]+)\s*cm/u.exec(question).map(Number);
        const v = u * f / (u - f), got = Object.fromEntries(answers.map((a) => [a.asked, a.value]));
        holds(`version ${version}: u ${u}, f ${f} give v ${v}`, close(got["flame.distance"], v, 1e-9) && close(got["flame.height"], -1.5 * v / u, 1e-9), JSON.stringify(got));
        holds(`version ${version}: its conditions`, u !== f && u !== 2 * f && Math.abs(v) >= 2 && Math.abs(v) <= 10 && Math.abs(1.5 * v / u) >= 0.5 && Math.abs(1.5 * v / u) <= 3 && Number.isInteger(2 * u), `${u} ${f}`);
        places.push(v);
    }
    holds("no two versions have the same image", told.length === 6 && new Set(places.map((v) => v.toFixed(6))).size === told.length, String(places));
    holds("at least one image is virtual", places.some((v) => v < 0), String(places));
    const same = (x, y) => JSON.stringify(x) === JSON.stringify(y);
    holds("the same seed, the same set", same(told, versions(mirrors, "--seed", "tide")));
    holds("another seed, another set", !same(told, versions(mirrors, "--seed", "ebb")));
}

// What is only answer changes nothing of the sheet, down to its bytes.
const base = `figure q {\n    mirror M concave focal 4 cm aperture 6 cm at 14 cm\n    object candle height 1.5 cm at 12 cm before M\n    frame 17 cm by 8 cm\n    step "a" {\n        ray a from candle.tip parallel\n        image flame of candle by M\n    }\n}\n\nsheet s "Mirrors" {\n    problem one = q "Find the image." marks 3 lines 2\n}\n`;
const other = base.replace("ray a from candle.tip parallel", "ray b from candle.tip through M.centre\n        dimension from M.vertex to flame.foot");
// A given that an answer hides, an answer written before what is given, points that could take a letter, a centre that gets a mark.
const spot = base.replace("    step", "    point A at (2 cm, 1 cm)\n    step");
const nasty = {
    hides: spot.replace("ray a", "hide A\n        emphasise candle\n        ray a"),
    before: spot.replace("    mirror", "    point B at (2.3 cm, 1.3 cm) answer named \"K\"\n    ray early from candle.tip toward M.vertex answer\n    mirror"),
    points: spot.replace("    }\n}", "        point Q at (2.1 cm, 1.6 cm)\n        label \"A\" at Q below\n        dimension from M.centre to M.vertex\n    }\n}"),
    tools: spot.replace("    }\n}", "    }\n    step \"b {flame.distance}\" {\n        ask \"Where?\"\n        say \"There.\"\n        protractor at M.vertex\n        hide candle\n    }\n    mistake m of a wrong_side\n}"),
    construct: spot.replace(/    step[^]*?\n    }\n/, "    construct flame of candle by M\n"),
};
for (const [name, text] of Object.entries({ spot, ...nasty })) writeFileSync(`${work}/${name}.sag`, text);
// A width of the author's is the problem's too, as high as the answers need.
writeFileSync(`${work}/wide.sag`, base.replace("frame 17 cm by 8 cm", "width 16 cm"));
run(binary, "draw", `${work}/wide.sag`, "--key", "-o", `${work}/wide.pdf`);
holds("a figure with a width of its own", /flame/.test(run("pdftotext", `${work}/wide.pdf`, "-")));
for (const form of ["pdf", "svg"]) {
    for (const name of ["spot", ...Object.keys(nasty)]) run(binary, "draw", `${work}/${name}.sag`, "--sheet", "s", "-o", `${work}/${name}.${form}`);
    for (const name of Object.keys(nasty)) holds(`${form}: the sheet knows nothing of an answer that ${name}`, readFileSync(`${work}/spot.${form}`).equals(readFileSync(`${work}/${name}.${form}`)));
}
const given = base.replace("    step", "    point P at (1 cm, 1 cm)\n    step");
for (const [name, text] of Object.entries({ base, other, given })) writeFileSync(`${work}/${name}.sag`, text);
for (const form of ["pdf", "svg"]) {
    for (const name of ["base", "other", "given"]) run(binary, "draw", `${work}/${name}.sag`, "--sheet", "s", "-o", `${work}/${name}.${form}`);
    const bytes = (n) => readFileSync(`${work}/${n}.${form}`);
    holds(`${form}: another answer, the same sheet`, bytes("base").equals(bytes("other")));
    holds(`${form}: another given, another sheet`, !bytes("base").equals(bytes("given")));
}
// Every paper, both ways: its size, and both bars by the PDF's coordinates and by pixels. ISO 216; ANSI/ASME Y14.1 for letter.
for (const [paper, w, h] of [["a4", 210, 297], ["a5", 148, 210], ["a3", 297, 420], ["letter", 215.9, 279.4]])
    for (const way of ["portrait", "landscape"]) {
        const small = `sheet s "Papers" {\n    paper ${paper} ${way}\n    problem one "Why is the mirror hollow?" lines 2 marks 1\n}\n`;
        writeFileSync(`${work}/paper.sag`, small);
        const pdf = `${work}/paper.pdf`;
        run(binary, "draw", `${work}/paper.sag`, "-o", pdf);
        const size = /Page size:\s+([\d.]+) x ([\d.]+)/.exec(run("pdfinfo", pdf)).slice(1).map((pt) => pt * 25.4 / 72);
        const [lying, upright, bar] = bars(pdf, 1), want = way === "portrait" ? [w, h] : [h, w];
        holds(`${paper} ${way}: its size`, close(size[0], want[0], 0.05) && close(size[1], want[1], 0.05), String(size));
        holds(`${paper} ${way}: bars by coordinates`, lying === 1 && upright === 1, `${lying} ${upright}`);
        const px = bar ? barPixels(pdf, bar) : 0;
        holds(`${paper} ${way}: the bar by pixels`, close(px, 1002, 4), `${px} px`);
    }
const picked = `figure q {\n    pick f from 3 cm, 4 cm\n    pick u from 6 cm, 7 cm, 9 cm\n    require spot.size <= 40 mm\n    differ u\n    lens L converging focal f aperture 4 cm at 10 cm\n    object lamp height 1 cm at u before L\n    image spot of lamp by L answer\n}\nsheet s "S {version}" {\n    versions 3\n    problem one = q "Draw it." marks 1\n}\n`;
const bad = [
    [base.replace("frame 17 cm by 8 cm", "frame 6 cm by 8 cm"), /stands outside problem one's frame/],
    [base.replace("frame 17 cm by 8 cm", "frame 40 cm by 8 cm"), /400 mm wide and a column has 180 mm/],
    [base.replace("lines 2", "lines 30"), /needs \d+ mm of height and a page has \d+ mm/],
    [base.replace("= q", "= r"), /`r`/],
    [picked.replace("40 mm", "1 mm"), /no values of `f` and `u` meet every demand/],
    [picked.replace("versions 3", "versions 7"), /7 versions need as many combinations, and only 6 meet/],
    [picked.replace("differ u", "require spot.size > 6 mm at_least 1\n    differ f"), /no two of 3 versions are to be alike in this, .* only 2 values/],
];
bad.forEach(([text, want], i) => {
    writeFileSync(`${work}/bad.sag`, text);
    const { status, said } = fails("draw", `${work}/bad.sag`, "-o", `${work}/bad.pdf`);
    holds(`bad sheet ${i}: one message, nothing written`, status === 1 && want.test(said) && (said.match(/error:/g) ?? []).length === 1 && !readdirSync(work).includes("bad.pdf"), said);
});
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
