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

// ---- several elements in turn, boundaries, thick lenses ----
// Two rays through all of it, each element at its place along the light: heights and slopes only.
function chainTraced(c) {
    const rays = [{ y: c.h, k: 0 }, { y: c.h, k: -c.h / c.u }];
    let way = c.u;
    for (const e of c.elements) {
        for (const r of rays) {
            r.y += way * r.k;
            r.k = e.kind === "boundary" ? (e.n1 * r.k - (e.n2 - e.n1) / e.R * r.y) / e.n2 : r.k - r.y / e.f;
        }
        way = e.gap;
    }
    const v = -(rays[0].y - rays[1].y) / (rays[0].k - rays[1].k);
    return { v, h: rays[0].y + v * rays[0].k };
}
function chainCase(i) {
    const one = (from, to) => Math.round((from + (to - from) * random()) * 10) / 10, sign = () => (random() < 0.7 ? 1 : -1);
    const sort = ["lens lens", "lens mirror", "mirror lens", "lens lens lens", "lens boundary", "boundary", "plane lens", "lens plane"][i % 8].split(" ");
    const elements = sort.map((kind) => kind === "plane" ? { kind, f: Infinity, gap: one(3, 12) } : kind === "boundary" ? { kind, n1: 1, n2: among([1.5, 1.333, 1.6]), R: sign() * one(2, 6), gap: one(3, 12) } : { kind, f: sign() * one(1.5, 7), gap: one(3, 12) });
    return { name: `c${i}`, elements, u: one(2, 14), h: among([1, 0.8, -1, 1.5]), convention: among(Object.keys(conventions)), figures: among([2, 3, 4]) };
}
function chainScript(c) {
    let x = 20, way = 1, body = "";
    c.elements.forEach((e, i) => {
        const n = "ABC"[i], facing = way > 0 ? "left" : "right";
        const what = { lens: `lens ${n} ${e.f > 0 ? "converging" : "diverging"} focal ${Math.abs(e.f)} cm`, mirror: `mirror ${n} ${e.f > 0 ? "concave" : "convex"} focal ${Math.abs(e.f)} cm facing ${facing}`,
            plane: `mirror ${n} plane facing ${facing}`, boundary: `boundary ${n} ${e.R > 0 ? "convex" : "concave"} radius ${Math.abs(e.R)} cm left 1 right ${e.n2}` }[e.kind];
        body += `${what} aperture 2 cm at ${Math.round(x * 10) / 10} cm\n`;
        if (e.kind === "mirror" || e.kind === "plane") way = -way;
        x += way * e.gap;
    });
    return `figure ${c.name} {\nconvention ${c.convention}\nscale 1:4\n${body}object o height ${c.h} cm at ${Math.round((20 - c.u) * 10) / 10} cm\nimage i of o by ${c.elements.map((_, k) => "ABC"[k]).join(", ")}\n}`;
}
const number = (x) => value(x.replace(/n₁|n₂/g, "?"));
function chainCheck(c, lines) {
    const t = chainTraced(c), [turn, sizes, U, V] = conventions[c.convention], show = `${JSON.stringify(c)}\n  ${lines.join("\n  ")}`, L = lines.map(plain);
    const last = c.elements.at(-1), mirror = last.kind === "mirror" || last.kind === "plane", size = (x) => (sizes ? Math.abs(x) : x);
    holds(L.length > 5, "worked out", show);
    if (L.length <= 5) return;
    let distances = [], sums = 0, sum = null, over = 1;
    for (const line of L.slice(0, -1)) {
        const parts = line.split(/ [=≈] /), numbers = parts.map((p) => { try { return value(p); } catch { return null; } });
        for (let k = 1; k < parts.length; k++) {
            if (numbers[k] === null || numbers[k - 1] === null || /^1\/|^\(?[\d.]+ - /.test(parts[k])) continue;
            sums++;
            holds(Math.abs(size(numbers[k - 1]) - numbers[k]) <= slack(parts[k]) * 1.000001 || sizes && Math.abs(Math.abs(numbers[k - 1]) - Math.abs(numbers[k])) <= slack(parts[k]) * 1.000001, `a line of ${c.name}: ${line}`, show);
        }
        if (/^(1|n₂)\//.test(line) && numbers.at(-1) !== null && /\d cm|\d/.test(parts.at(-1)) && parts.length > 2) { sum = numbers.at(-1); over = line.startsWith("n₂") ? c.elements.find((e) => e.kind === "boundary").n2 : 1; }
        else if (parts[0] === V && !parts[1].includes(U)) {
            holds(Math.abs(over / sum - Number(parts[1])) <= slack(parts[1]) * 1.000001, `a distance of ${c.name}: ${line}`, show);
            distances.push(parts);
        } else if (parts[0] === V) distances.push(parts.slice(1));
    }
    const v = distances.at(-1).at(-1), h = L.at(-2).split(/ [=≈] /).at(-1);
    holds(distances.length === c.elements.length && sums >= c.elements.length, "a distance for each", show);
    holds(agrees(v, (mirror ? turn : 1) * t.v, c.figures), `the last distance ${v} for ${t.v}`, show);
    holds(agrees(h, sizes ? Math.abs(t.h) : t.h, c.figures), `the height ${h} for ${t.h}`, show);
    holds(L.at(-1).includes(t.v > 0 ? "real" : "virtual") && L.at(-1).includes(t.h * c.h > 0 ? "upright" : "inverted"), "the nature", show);
}
// An image far away, or on the next element, is no case for a school; nor is one at infinity on the way.
const farOnTheWay = (c) => c.elements.some((e, i) => i + 1 < c.elements.length && Math.abs(chainTraced({ ...c, elements: c.elements.slice(0, i + 1) }).v) > 1e6);
const chains = Array.from({ length: 240 }, (_, i) => chainCase(i)).filter((c) => { const t = chainTraced(c); return Math.abs(t.v) > 0.3 && Math.abs(t.v) < 80 && Math.abs(t.h) > 0.05 && !farOnTheWay(c); });
for (let from = 0; from < chains.length; from += 80) {
    const some = chains.slice(from, from + 80), file = `${work}/chains-${from}.sag`;
    const problems = some.map((c) => `problem p_${c.name} = ${c.name} "Where?" asks i.distance figures ${c.figures}`);
    writeFileSync(file, `${some.map(chainScript).join("\n")}\nsheet s "Worked" {\nversions 1\n${problems.join("\n")}\n}\n`);
    const told = JSON.parse(execFileSync(binary, ["answers", file, "--json"], { encoding: "utf8", maxBuffer: 1 << 28, stdio: ["ignore", "pipe", "pipe"] })).versions[0].problems;
    some.forEach((c, i) => { try { chainCheck(c, told[i].worked ?? []); } catch (e) { holds(false, `${e}`, `${JSON.stringify(c)} ${JSON.stringify(told[i].worked)}`); } });
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
