// worked.mjs SAGITTA: worked solutions of random cases, read as a pupil reads them: each line of numbers, put into a calculator,
// gives what stands after its last equals sign; signs, results and natures are those of an image that is found here by tracing two
// paraxial rays by slope and height, with no mirror or lens equation. Last line: "N passed, N failed".
import { execFileSync } from "node:child_process";
import { mkdirSync, rmSync, writeFileSync } from "node:fs";

const [binary] = process.argv.slice(2);
const work = "build/test/worked";
rmSync(work, { recursive: true, force: true });
mkdirSync(work, { recursive: true });
let passed = 0, failed = 0;
function holds(good, name, more = "") {
    if (good) { passed++; return; }
    failed++;
    if (failed < 12) console.log(`FAILED ${name}\n  ${more}`);
}
let state = 20261125;
const random = () => (state = (state * 1103515245 + 12345) % 2147483648) / 2147483648;
const among = (list) => list[Math.floor(random() * list.length)];

const conventions = { uk_school: [1, true, "u", "v"], us_school: [1, false, "dₒ", "dᵢ"], indian_school: [-1, false, "u", "v"], university: [-1, false, "s", "s′"] };
const kinds = ["mirror concave", "mirror convex", "mirror plane", "lens converging", "lens diverging"];

function makeCase(i) {
    const kind = kinds[i % 5], where = Math.floor(i / 5) % 7, f = (12 + Math.floor(random() * 50)) / 10;
    // beyond 2f, at 2f, between, at f, inside f, anywhere, anywhere on the far side
    const u = [() => f * (2.1 + 2 * random()), () => 2 * f, () => f * (1.15 + 0.8 * random()), () => f, () => f * (0.2 + 0.7 * random()), () => 1 + 9 * random(), () => -(1 + 6 * random())][where]();
    return { name: `q${i}`, kind, f, u: Math.round(u * 100) / 100, h: among([1, 1.5, 0.8, -1, 0.75]), left: random() < 0.3,
        convention: among(Object.keys(conventions)), figures: among([2, 3, 4]) };
}
// Two rays from the tip, unfolded: one level, one to the middle of the element. The element turns a ray by -height/f.
function traced(c) {
    const f = c.kind.includes("plane") ? Infinity : /convex|diverging/.test(c.kind) ? -c.f : c.f;
    const level = { y: c.h, k: -c.h / f }, middle = { y: 0, k: -c.h / c.u };
    const v = -(level.y - middle.y) / (level.k - middle.k);
    return { v, m: (middle.k * v) / c.h, infinite: Math.abs(level.k - middle.k) < 1e-9, f };
}
const nature = (c, t) => [t.v > 0 ? "real" : "virtual", t.m > 0 ? "upright" : "inverted",
    Math.abs(Math.abs(t.m) - 1) < 5e-3 ? null : Math.abs(t.m) > 1 ? "enlarged" : "reduced"];

const plain = (t) => t.replace(/[*\\]/g, "").replace(/−/g, "-").replace(/\u2009?cm/g, "").replace(/×/g, "*").replace(/d_o/g, "dₒ").replace(/d_i/g, "dᵢ");
const value = (t) => { if (!/^[-+*/(). 0-9]+$/.test(t)) throw Error(`no numbers: ${t}`); return Function(`"use strict"; return ${t.replace(/--/g, "- -")}`)(); };
// Half a unit of the last figure that is shown, a little more for what is given to three decimals.
const slack = (shown) => 0.5000001 * 10 ** -((/\.(\d+)/.exec(shown)?.[1].length ?? 0) - (/^-?\d+$/.test(shown) ? 0 : 0));
const agrees = (shown, x, figures) => Math.abs(Number(shown) - x) <= Math.max(slack(shown), 0.5000001 * 10 ** (Math.floor(Math.log10(Math.abs(x) || 1)) - figures + 1)) * 1.000001 && /^-?[\d.]+$/.test(shown);

function check(c, lines) {
    const t = traced(c), [turn, sizes, U, V] = conventions[c.convention], mirror = c.kind.startsWith("mirror"), plane = c.kind.includes("plane");
    const show = `${JSON.stringify(c)}\n  ${lines.join("\n  ")}`, L = lines.map(plain);
    const u = turn * c.u, f = (mirror ? turn : 1) * t.f, v = (mirror ? turn : 1) * t.v;
    const given = plane ? `${U} = ${u}, h = ${c.h}` : `${U} = ${u}, f = ${f}, h = ${c.h}`;
    holds(L[0] === given, "what is given", `${given}\n  ${show}`);
    let at = 1, shownV;
    if (plane) {
        const p = L[at++].split(/ [=≈] /);
        shownV = p[2];
        holds(p[0] === V && p[1] === `-${U}` && agrees(shownV, -u, c.figures), "a plane mirror", show);
    } else {
        const minus = turn < 0 && !mirror;
        holds(L[at++] === `1/${V} ${minus ? "-" : "+"} 1/${U} = 1/f`, "the equation", show);
        const p = L[at++].split(/ [=≈] /);
        holds(Math.abs(value(p[2]) - (1 / f + (minus ? 1 : -1) / u)) < 1e-9, "the numbers put in", show);
        if (t.infinite) { holds(p[3] === "0" && /infinity/.test(L[at]) && L.length === at + 1, "at infinity", show); return; }
        shownV = L[at++].split(/ [=≈] /).pop();
        holds(agrees(shownV, 1 / value(p[2]), c.figures) && agrees(shownV, v, c.figures), "the result", show);
    }
    const m = L[at++].split(/ [=≈] /), h = L[at++].split(/ [=≈] /), shownM = m[m.length - 1], shownH = h[h.length - 1];
    const size = (x) => sizes ? Math.abs(x) : x;
    holds(m[1] === `${!sizes && (mirror || turn > 0) ? "-" : ""}${V}/${U}`, "the magnification", show);
    holds(agrees(shownM, size(t.m), c.figures) && agrees(shownM, value(m[2]), c.figures), "the magnification's numbers", show);
    holds(agrees(shownH, size(t.m * c.h), c.figures) && agrees(shownH, sizes ? Math.abs(value(h[2])) : value(h[2]), c.figures), "the height's numbers", show);
    for (const p of [m, h]) holds(Math.abs(Math.abs(value(p[2])) - Math.abs(Number(p[3]))) <= slack(p[3]) * 1.000001, "the figures behind the numbers put in", show);
    // what is put in was written down before
    const carriedV = L[at - 3].split(/ [=≈] /).slice(plane ? 2 : 1), carriedM = m.slice(3);
    holds(carriedV.some((x) => Number(x) === value(m[2].replace(/^-(?=[-(\d])/, !sizes && (mirror || turn > 0) ? "" : "$&").split("/")[0]) || sizes), "the distance put in", show);
    holds(carriedM.some((x) => h[2].startsWith(`${x} *`)), "the magnification put in", show);
    const n = nature(c, t);
    holds(n.every((w) => w === null || L[at].includes(w)) && L.length === at + 1, "the nature", `${n}\n  ${show}`);
}

const cases = Array.from({ length: 420 }, (_, i) => makeCase(i)).filter((c) => Math.abs(c.u) > 0.3);       // nearer the object stands on the glass
function script(list) {
    const figures = list.map((c) => {
        const plane = c.kind.includes("plane"), place = c.u < 0 ? `${-c.u} cm beyond E virtual` : `${c.u} cm before E`;
        return `figure ${c.name} {\nconvention ${c.convention}\nscale 1:4\n${c.left ? "light leftward\n" : ""}${c.kind.replace(" ", " E ")}${plane ? "" : ` focal ${c.f} cm`} aperture 4 cm at 0 cm\n`
            + `object o height ${c.h} cm at ${place}\nimage i of o by E\n}`;
    });
    const problems = list.map((c) => `problem p_${c.name} = ${c.name} "Where?" asks i.distance figures ${c.figures}`);
    return `${figures.join("\n")}\nsheet s "Worked" {\nversions 1\n${problems.join("\n")}\n}\n`;
}
for (let from = 0; from < cases.length; from += 150) {
    const some = cases.slice(from, from + 150), file = `${work}/cases-${from}.sag`;
    writeFileSync(file, script(some));
    const answers = JSON.parse(execFileSync(binary, ["answers", file, "--json"], { encoding: "utf8", maxBuffer: 1 << 28, stdio: ["ignore", "pipe", "pipe"] }));
    const told = answers.versions[0].problems;
    holds(told.length === some.length, "a solution each");
    some.forEach((c, i) => { try { check(c, told[i].worked ?? []); } catch (e) { holds(false, `${e}`, `${JSON.stringify(c)} ${JSON.stringify(told[i].worked)}`); } });
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
