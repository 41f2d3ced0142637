// The page around the program: starts it and tells what befalls it. Nothing here, or in the files beside it, knows what a
// head is.
import {handOutAddress, sceneOfAddress} from './address.js';
import {copy, tell} from './input.js';
import {askForFiles, handOut, openStorage, stateFolder, store, stores} from './storage.js';
import {keepPicture, printSheet} from './print.js';
import {giveProgram, send, stop} from './workers.js';

const canvas = document.getElementById('head');

function say(words, failed) {
    document.getElementById('said').textContent = words;
    document.getElementById('words').hidden = !words;
    document.getElementById('again').hidden = !failed;
}

let failed = false;
function fail(words) {
    if (failed) return;
    failed = true;
    store();
    const work = !globalThis.Module?.page.started ? ''
        : stores ? '\n\nWhat you had not saved is kept. Start again to take it up.'
        : '\n\nWhat you had not saved is lost: nothing is kept in the browser from this page.';
    say(words + work, true);
}

document.getElementById('again').onclick = () => location.reload();
addEventListener('error', (event) => fail('The program stopped: ' + event.message));
addEventListener('unhandledrejection', (event) => fail('The program stopped: ' + event.reason));
canvas.addEventListener('webglcontextlost', () => fail('The browser took the drawing surface away, as it does when the graphics driver fails.'));
// What would be lost is asked for; the program says in the title that a head is changed.
addEventListener('beforeunload', (event) => {
    if (!stores && !failed && document.title.includes(' (changed) - ')) event.preventDefault();
});

// Size, in the screen's own pixels.

function size() {
    const ratio = window.devicePixelRatio || 1;
    return [Math.max(1, Math.round(canvas.clientWidth * ratio)), Math.max(1, Math.round(canvas.clientHeight * ratio))];
}

function fit() {
    const [width, height] = size();
    if (canvas.width !== width || canvas.height !== height) Module._swashwright_resized(width, height);
}

// Start.

async function start() {
    await openStorage();
    const asked = new URLSearchParams(location.search);
    let given = '', refused = '';
    try {
        given = await sceneOfAddress();
    } catch (error) {
        refused = error.message;
    }
    if (given) Module.FS.writeFile('/given.toml', given);
    const [width, height] = size();
    Module.callMain([given ? '/given.toml' : '', asked.get('lesson') || '', asked.has('report') ? '/report.json' : '',
        String(width), String(height), refused]);
    if (failed) return;
    Module.page.started = true;
    new ResizeObserver(fit).observe(canvas);
    addEventListener('resize', fit);
    say('');
    canvas.focus();
    if (!stores)
        tell('Nothing is kept in the browser from this page: another one with this program is open, or storage is off.');
    // Where the browser allows it the page opens without a network from now on.
    if (navigator.serviceWorker) navigator.serviceWorker.register('offline.js').catch(() => {});
}

async function instantiate(imports, receive) {
    const response = await fetch('swashwright.wasm');
    const out = await WebAssembly.instantiate(await response.arrayBuffer(), imports);
    giveProgram(out.module);
    receive(out.instance, out.module);
}

globalThis.Module = {
    canvas,
    preRun: [() => { Module.ENV.XDG_STATE_HOME = stateFolder; }],
    page: {send, stop, askForFiles, handOut, stores: () => stores, copied: copy, keepPicture, print: printSheet, fail,
        started: false,
        handOutAddress(text) { handOutAddress(text).catch((error) => tell('There is no address: ' + error.message)); }},
    instantiateWasm(imports, receive) {
        instantiate(imports, receive).catch((error) => fail('The program cannot be loaded: ' + error));
        return {};
    },
    onAbort(why) { fail('The program stopped: ' + why); },
    onRuntimeInitialized() { start().catch((error) => fail('The program cannot start: ' + error)); },
};
