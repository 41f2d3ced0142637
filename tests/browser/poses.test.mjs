// The page's own wasm against the program on the desktop, in one run: the same poses, and how long a study takes.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {readFileSync, readdirSync} from 'node:fs';
import {createRequire} from 'node:module';
import {join} from 'node:path';
import {before, test} from 'node:test';
import {runInThisContext} from 'node:vm';

const house = process.env.SWASHWRIGHT_HOUSE, folder = process.env.SWASHWRIGHT_PAGE;
let program;

before(() => new Promise((resolve) => {
    // As a page's script, so that it finds what stands in Module.
    const script = join(folder, 'swashwright.js');
    Object.assign(globalThis, {require: createRequire(import.meta.url), __filename: script, __dirname: folder});
    program = globalThis.Module = {wasmBinary: readFileSync(join(folder, 'swashwright.wasm')), onRuntimeInitialized: resolve};
    runInThisContext(readFileSync(script, 'utf8'), script);
}));

const heads = ['scenes', 'tests/data/reference', 'tests/data/linkages'].flatMap((place) =>
    readdirSync(join(house, place)).filter((name) => name.endsWith('.toml')).map((name) => join(house, place, name)));

const desktop = (...words) => execFileSync(process.env.SWASHWRIGHT_PROGRAM, words, {encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore']});

/// All numbers of a value, in its order.
function numbers(value) {
    if (typeof value === 'number') return [value];
    return value === null || typeof value !== 'object' ? [] : Object.values(value).flatMap(numbers);
}

test('poses are those of the desktop to 1e-10', () => {
    // Within what every transmitter of these heads lets through.
    const sticks = [[0, 0, 0, 0], [0.4, 0, 0, 0], [0, 0.3, -0.2, 77], [-0.35, -0.25, 0.3, 200], [0.2, 0.1, 0.4, 331]];
    let most = 0, count = 0;
    for (const head of heads) {
        const text = readFileSync(head, 'utf8'), tail = /^kind = "tail"/m.test(text);
        for (const [up, right, forward, azimuth] of sticks) {
            const options = tail ? ['--rudder', `${up}`]
                : ['--collective', `${up}`, '--aileron', `${right}`, '--elevator', `${forward}`];
            const theirs = JSON.parse(desktop('pose', head, ...options, '--azimuth', `${azimuth}`, '--json'));
            const given = tail ? [0, 0, 0, up] : [up, right, forward, 0];
            const ours = program.ccall('swashwright_pose', 'string',
                ['string', 'number', 'number', 'number', 'number', 'number'], [text, ...given, azimuth])
                .split(',').map(Number);
            delete theirs.residual_mm;  // of rounding alone
            const wanted = numbers(theirs);
            assert.equal(ours.length, wanted.length, head);
            const off = Math.max(...wanted.map((number, i) => Math.abs(number - ours[i])));
            assert.ok(off < 1e-10, `${head} ${options}: ${off}`);
            most = Math.max(most, off);
            ++count;
        }
    }
    console.log(`${count} poses of ${heads.length} heads, the furthest ${most.toExponential(1)} off`);
    assert.ok(heads.length > 15);
});
