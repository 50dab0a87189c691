// versions.mjs SAGITTA SCRIPT...: the numbers of the versions of sheets. A free pick that an author adds leaves the numbers of printed sheets as they are: at the end of a
// figure, at its beginning, in a figure of its own and in the file. What a key of mirrors says
// follows from its given numbers by the mirror equation and by `ask`, and keeps what the script demands. Last line: "N passed, N failed".
import { execFileSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { basename } from "node:path";

const [binary, ...scripts] = process.argv.slice(2);
const work = "build/test/versions";
mkdirSync(work, { recursive: true });
let passed = 0, failed = 0;
function holds(name, good, more = "") {
    if (good) { passed++; return; }
    failed++;
    console.log(`FAILED ${name} ${more}`);
}
const pick = "pick added from 1 cm to 9 cm step 0.5 cm";
// Each edit renames nothing and ties the new pick to nothing.
const edits = {
    "at the beginning of each figure": (t) => t.replace(/^(figure \w+(\([^)]*\))? "[^"]*" \{\n)/gm, `$1    ${pick}\n`),
    "at the end of each figure": (t) => t.replace(/^(figure [^]*?)^\}$/gm, `$1    ${pick}\n}`),
    "in another problem": (t) => t.replace(/^sheet /m, `figure extra "Extra" {\n    ${pick}\n    lens L converging focal 3 cm aperture 4 cm at 8 cm\n    object lamp height 1 cm at 5 cm before L\n    point P at (added, 1 cm)\n}\n\nsheet `).replace(/\}\s*$/, `\n    problem extra_one = extra "Where is the point?" marks 1\n}\n`),
    "in the file": (t) => t.replace(/^sheet /m, `${pick}\n\nsheet `),
};
function versions(text, seed, name) {
    const file = `${work}/${name}.sag`;
    writeFileSync(file, text);
    const told = JSON.parse(execFileSync(binary, ["answers", file, "--json", "--seed", seed], { encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] }));
    return told.versions.map((v) => JSON.stringify([v.version, v.problems.filter((p) => p.problem !== "extra_one").map((p) => [p.problem, p.question, p.answers])]));
}
const seeds = Array.from({ length: Number(process.env.SEEDS ?? 5) }, (_, i) => `seed ${i}`);
for (const script of scripts) {
    const text = readFileSync(script, "utf8"), name = basename(script, ".sag");
    const before = seeds.map((seed) => versions(text, seed, name));
    holds(`${name}: other seeds, other sets`, new Set(before.map(String)).size > seeds.length / 2);
    for (const [where, edit] of Object.entries(edits)) {
        const after = edit(text);
        let kept = 0, all = 0;
        holds(`${name}: the edit ${where} took place`, after.includes(pick));
        seeds.forEach((seed, i) => versions(after, seed, name).forEach((v, k) => { all++; kept += v === before[i][k]; }));
        if (process.env.TELL) console.log(`${name}, ${where}: ${kept} of ${all} versions kept`);
        holds(`${name}: a free pick ${where}: ${kept} of ${all} versions kept`, all > 0 && kept >= 0.9 * all);
    }
}
// 1/u + 1/v = 1/f, m = -v/u (OpenStax University Physics 3, ch. 2), and the demands of the scripts, written again here. `ask` is
// put to a script with the version's given numbers in place of its picks.
const near = (x, y) => Math.abs(x - y) <= 1e-9 * Math.max(1, Math.abs(y));
const demands = {
    curved_mirrors: {
        shaving: { figure: "shaving_mirror", h: 1.5, keeps: (u, f, v, size) => u !== f && u !== 2 * f && [2.5, 3, 3.5, 4].includes(f) && u >= 1.5 && u <= 11 && Math.abs(v) >= 2 && Math.abs(v) <= 10 && size >= 0.5 && size <= 3, virtual: 1 },
        signal: { figure: "signal_lamp", h: 1.5, keeps: (u, f, v, size) => u !== 2 * f && u >= f + 2.5 && [3, 3.5, 4].includes(f) && u >= 7 && u <= 11 && v >= 4 && v <= 10 && size <= 2.5, virtual: 0 },
    },
    mirror_sheet: {
        shaving: { figure: "keepers_mirror", h: 1, keeps: (u, f, v, size) => u !== f && u !== 2 * f && [2.5, 3, 4].includes(f) && u >= 2 && u <= 12 && Math.abs(v) >= 2 && Math.abs(v) <= 12 && size >= 0.5 && size <= 2.5, virtual: 1 },
    },
};
for (const script of scripts) {
    const text = readFileSync(script, "utf8"), sheet = basename(script, ".sag");
    const told = JSON.parse(execFileSync(binary, ["answers", script, "--json"], { encoding: "utf8" })).versions;
    for (const [name, { figure, h, keeps, virtual }] of Object.entries(demands[sheet] ?? {})) {
        const places = [];
        for (const { version, problems } of told) {
            const { answers, worked } = problems.find((p) => p.problem === name), place = `${sheet}, ${name}, version ${version}`;
            const [, u, f] = /^u = ([\d.]+)\s*cm, f = ([\d.]+)\s*cm/.exec(worked[0]).map(Number), v = u * f / (u - f), m = -v / u;
            const want = { distance: v, magnification: m, height: m * h, nature: `${v > 0 ? "real" : "virtual"}, ${m < 0 ? "inverted" : "upright"}, ${Math.abs(m) > 1 ? "enlarged" : "reduced"}` };
            places.push(v);
            holds(`${place}: what the script demands`, Number.isInteger(2 * u) && keeps(u, f, v, Math.abs(m * h)), `u ${u} f ${f}`);
            const fixed = text.replace(new RegExp(`^figure ${figure} [^]*?^}$`, "m"), (t) => t.replace(/pick f from .*/, `let f = ${f} cm`).replace(/pick u from .*/, `let u = ${u} cm`).replace(/ *(differ|require .* at_least) .*\n/g, ""));
            writeFileSync(`${work}/fixed.sag`, fixed);
            for (const { asked, value } of answers) {
                const wanted = want[asked.split(".")[1]];
                holds(`${place}: ${asked} by the mirror equation`, typeof value === "number" ? near(value, wanted) : value === wanted, `${value} ${wanted}`);
                const said = execFileSync(binary, ["ask", `${work}/fixed.sag`, asked, "--figure", figure], { encoding: "utf8" }).trim();
                holds(`${place}: ${asked} as \`ask\` tells it`, typeof value === "number" ? near(parseFloat(said), value) : said === value, `${said} ${value}`);
            }
        }
        holds(`${sheet}, ${name}: no two versions alike`, places.length >= 3 && new Set(places.map((v) => v.toFixed(9))).size === places.length, String(places));
        holds(`${sheet}, ${name}: virtual images enough`, places.filter((v) => v < 0).length >= virtual, String(places));
    }
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
