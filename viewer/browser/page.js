// The page around the program: starts it, keeps its files, hands files in and out, and brings it what the browser has in
// another form than it wants (wheel, touch, clipboard). Nothing here knows what a head is.

const canvas = document.getElementById('head');
const kept = '/kept';             // what of the program's files outlives the page
const ownFiles = kept + '/files';  // the user's, as they were handed in or saved last
const unsaved = kept + '/state/swashwright/unsaved';
let compiled = null;              // the program, for workers

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
    say(words + '\n\nWhat you had not saved is kept. Start again to take it up.', true);
}

document.getElementById('again').onclick = () => location.reload();
addEventListener('error', (event) => fail('The program stopped: ' + event.message));
addEventListener('unhandledrejection', (event) => fail('The program stopped: ' + event.reason));
canvas.addEventListener('webglcontextlost', () => fail('The browser took the drawing surface away, as it does when the graphics driver fails.'));

// Workers: as many as the machine has cores to spare, each ended where its task is not wanted any more.

const mostWorkers = Math.max(1, Math.min(4, (navigator.hardwareConcurrency || 2) - 1));
const workers = new Set(), waiting = [];
let lastNumber = 0;

function withBytes(bytes, act) {
    const place = Module._malloc(bytes.length);
    Module.HEAPU8.set(bytes, place);
    act(place, bytes.length);
    Module._free(place);
}

function heard(worker, {what, value}) {
    const number = worker.number;
    if (what >= 2) worker.number = 0;
    if (what === 3) endWorker(worker);
    if (what === 1 || what === 2)
        withBytes(value, (place, size) => Module._swashwright_heard(number, what, place, size));
    else
        Module._swashwright_heard(number, what, 0, what === 0 ? value : 0);
    if (what >= 2) serve();
}

function newWorker() {
    const worker = new Worker('worker.js');
    worker.number = 0;
    worker.onmessage = ({data}) => heard(worker, data);
    worker.onerror = (event) => { event.preventDefault(); heard(worker, {what: 3}); };
    worker.postMessage({module: compiled});
    workers.add(worker);
    return worker;
}

function endWorker(worker) {
    worker.onmessage = worker.onerror = null;
    worker.terminate();
    workers.delete(worker);
}

function serve() {
    while (waiting.length > 0) {
        let worker = [...workers].find((one) => one.number === 0);
        if (!worker && workers.size >= mostWorkers) return;
        worker = worker || newWorker();
        const {number, task, bytes} = waiting.shift();
        worker.number = number;
        worker.postMessage({task, bytes}, [bytes.buffer]);
    }
}

function send(task, bytes) {
    waiting.push({number: ++lastNumber, task, bytes});
    serve();
    return lastNumber;
}

function stop(number) {
    const at = waiting.findIndex((one) => one.number === number);
    if (at >= 0) return void waiting.splice(at, 1);
    const worker = [...workers].find((one) => one.number === number);
    if (worker) endWorker(worker);
    serve();
}

// Files. What stands below `kept` goes to the browser's storage soon after it changes; of several pages with this
// program the first has it.

let stores = false, storing = false, storeAgain = false;

function store() {
    if (!stores) return;
    if (storing) return void (storeAgain = true);
    storing = true;
    Module.FS.syncfs(false, () => {
        storing = false;
        if (storeAgain) { storeAgain = false; store(); }
    });
}

let soon = 0;
function storeSoon() {
    clearTimeout(soon);
    soon = setTimeout(store, 200);
}

function firstPage() {
    if (!navigator.locks) return Promise.resolve(true);
    return new Promise((resolve) => navigator.locks.request('swashwright storage', {ifAvailable: true}, (lock) => {
        resolve(lock !== null);
        return lock && new Promise(() => {});  // held until the page is closed
    }));
}

async function openStorage() {
    const FS = Module.FS;
    FS.mkdirTree(kept);
    FS.mount(FS.filesystems.IDBFS, {}, kept);
    const first = await firstPage();
    await new Promise((resolve) => FS.syncfs(true, (error) => {
        stores = first && !error;
        resolve();
    }));
    FS.mkdirTree(ownFiles);
    FS.chdir(ownFiles);
    FS.mkdirTree(unsaved);
    if (!first)  // what the other page has not saved is not left behind
        for (const name of FS.readdir(unsaved)) if (name.endsWith('.json')) FS.unlink(`${unsaved}/${name}`);
    for (const change of ['rename', 'unlink']) {
        const act = FS[change];
        FS[change] = (...given) => { const out = act(...given); storeSoon(); return out; };
    }
}

addEventListener('pagehide', store);

async function handIn(list) {
    const taken = [];
    for (const file of list) {
        const path = ownFiles + '/' + file.name.replace(/[/\\]/g, '_');
        Module.FS.writeFile(path, new Uint8Array(await file.arrayBuffer()));
        taken.push(path);
    }
    storeSoon();
    // Meshes come along with the scene that names them.
    const open = taken.find((path) => !/\.stl$/i.test(path));
    if (open) Module.ccall('swashwright_handed_in', null, ['string'], [open]);
}

const picker = document.getElementById('files');
picker.onchange = async () => {
    await handIn(picker.files);
    picker.value = '';
    canvas.focus();
};
addEventListener('dragover', (event) => event.preventDefault());
addEventListener('drop', (event) => {
    event.preventDefault();
    event.stopImmediatePropagation();
    handIn(event.dataTransfer.files);
}, {capture: true});

function handOut(path) {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([Module.FS.readFile(path)], {type: 'application/octet-stream'}));
    link.download = path.split('/').pop();
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

// Addresses that carry a head: the scene's text, compressed, behind "#head=".

const longestScene = 1 << 20;

async function through(stream, bytes) {
    const reader = new Blob([bytes]).stream().pipeThrough(stream).getReader();
    const parts = [];
    for (let size = 0;;) {
        const {done, value} = await reader.read();
        if (done) return new Uint8Array(await new Blob(parts).arrayBuffer());
        parts.push(value);
        if ((size += value.length) > longestScene) throw new Error('the address holds too much');
    }
}

async function handOutAddress(text) {
    const bytes = await through(new CompressionStream('deflate-raw'), new TextEncoder().encode(text));
    const code = btoa(String.fromCharCode(...bytes)).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '');
    history.replaceState(null, '', '#head=' + code);
    copy(location.href);
}

async function sceneOfAddress() {
    const code = /^#head=([\w-]+)$/.exec(location.hash);
    if (!code) return '';
    const bytes = atob(code[1].replace(/-/g, '+').replace(/_/g, '/'));
    try {
        return await through(new DecompressionStream('deflate-raw'), Uint8Array.from(bytes, (c) => c.charCodeAt(0)));
    } catch {
        return new TextEncoder().encode('the address was cut short, or holds something else than a head');
    }
}

addEventListener('hashchange', () => location.reload());

// The build sheet: its pages stand in the document, for the browser's print alone.

const sheet = document.getElementById('sheet'), sheetStyle = new CSSStyleSheet();
document.adoptedStyleSheets = [sheetStyle];
let pictureOfHead = '';

function keepPicture(rgb, width, height) {
    const aside = document.createElement('canvas'), image = new ImageData(width, height);
    for (let from = 0, to = 0; from < rgb.length; from += 3, to += 4) {
        image.data.set(rgb.subarray(from, from + 3), to);
        image.data[to + 3] = 255;
    }
    aside.width = width;
    aside.height = height;
    aside.getContext('2d').putImageData(image, 0, 0);
    pictureOfHead = aside.toDataURL();
}

// Letters as they were measured: parentheses from the other font, as B612's are all but square.
async function giveFonts() {
    const folder = '/usr/share/fonts/', round = 'U+28-29';
    const fonts = [['opentype/b612/B612-Regular.otf', 'normal', 'U+0-27, U+2A-10FFFF'], ['opentype/b612/B612-Bold.otf', 'bold', 'U+0-27, U+2A-10FFFF'],
        ['truetype/dejavu/DejaVuSans.ttf', 'normal', round], ['truetype/dejavu/DejaVuSans.ttf', 'bold', round]];
    for (const [file, weight, unicodeRange] of fonts)
        document.fonts.add(await new FontFace('Sheet', Module.FS.readFile(folder + file), {weight, unicodeRange}).load());
    document.fonts.add(await new FontFace('Sheet Others', Module.FS.readFile(folder + fonts[2][0])).load());
}

async function printSheet(svg, paper) {
    await (giveFonts.given = giveFonts.given || giveFonts());
    sheet.innerHTML = svg;
    for (const image of sheet.querySelectorAll('image')) image.setAttribute('href', pictureOfHead);
    sheetStyle.replaceSync(`@page { size: ${paper}; margin: 0 }`);
    setTimeout(print);
}

// Clipboard. The browser gives what is on it with its own paste alone, so Ctrl+V goes on to the program after that.

function copy(text) {
    if (navigator.clipboard) return void navigator.clipboard.writeText(text).catch(() => {});
    const field = document.createElement('textarea');
    field.value = text;
    document.body.append(field);
    field.select();
    document.execCommand('copy');
    field.remove();
    canvas.focus();
}

function pressV() {
    for (const type of ['keydown', 'keyup']) {
        const event = new KeyboardEvent(type, {key: 'v', bubbles: true});
        Object.defineProperty(event, 'keyCode', {value: 86});
        canvas.dispatchEvent(event);
    }
}

addEventListener('paste', (event) => {
    Module.ccall('swashwright_pasted', null, ['string'], [event.clipboardData.getData('text/plain')]);
    pressV();
});

// Keys. The program gets all but those without which a browser cannot be used; the browser none that the program takes.

const browsersKeys = /^(F5|F11|F12)$/, browsersWithCtrl = /^[tnwrlqjhdu0-9]$|^Tab$/i;
const programsKeys = /^(F1|F6|Tab|Backspace|Home|End|Page(Up|Down)|Arrow.*)$/, programsWithCtrl = /^[sopzykfga+=-]$/i;

addEventListener('keydown', (event) => {
    if (!event.isTrusted) return;
    const ctrl = event.ctrlKey || event.metaKey;
    if (browsersKeys.test(event.key) || (ctrl && browsersWithCtrl.test(event.key)) ||
        (ctrl && /^v$/i.test(event.key)))
        return event.stopImmediatePropagation();
    if (programsKeys.test(event.key) || (ctrl && programsWithCtrl.test(event.key))) event.preventDefault();
}, {capture: true});

// Wheel: GLFW's steps are a hundred pixels, and its up is the browser's down.

addEventListener('wheel', (event) => {
    if (!event.isTrusted) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    const step = event.deltaMode === 0 ? 100 : event.deltaMode === 1 ? 3 : 1;
    wheel(event, -event.deltaX / step, -event.deltaY / step);
}, {capture: true, passive: false});

function wheel(at, x, y) {
    canvas.dispatchEvent(new WheelEvent('wheel', {deltaX: x, deltaY: y, clientX: at.clientX, clientY: at.clientY,
        bubbles: true, cancelable: true}));
}

function mouse(type, at, button = 0) {
    canvas.dispatchEvent(new MouseEvent(type, {clientX: at.clientX, clientY: at.clientY, button, bubbles: true}));
}

canvas.addEventListener('contextmenu', (event) => event.preventDefault());
canvas.addEventListener('pointerdown', (event) => {
    if (event.pointerType === 'mouse') canvas.setPointerCapture(event.pointerId);
});

// Touch: one finger is the left button. Two on the picture come closer and move it, two elsewhere scroll.

const fingerStep = 40;  // pixels of the page that count as a step of the wheel
const zoomStep = Math.log(1.1);  // of the camera, at a step of the wheel
let fingers = 0, last = null, pressed = -1;

function press(at, button) {
    mouse('mousemove', at);
    mouse('mousedown', at, pressed = button);
}
function release(at) {
    if (pressed >= 0) mouse('mouseup', at, pressed);
    pressed = -1;
}
function spread(touches) {
    const [a, b] = touches;
    return {clientX: (a.clientX + b.clientX) / 2, clientY: (a.clientY + b.clientY) / 2,
        apart: Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY)};
}

function touched(event) {
    event.preventDefault();
    event.stopImmediatePropagation();
    const touches = event.touches;
    if (touches.length !== fingers) return fingersChanged(touches);
    if (fingers === 1) {
        last = touches[0];
        return mouse('mousemove', last);
    }
    if (fingers !== 2) return;
    const now = spread(touches);
    if (pressed === 1) {
        wheel(now, 0, Math.log(now.apart / last.apart) / zoomStep);
        mouse('mousemove', now);
    } else {
        wheel(now, 0, (now.clientY - last.clientY) / fingerStep);
    }
    last = now;
}

function fingersChanged(touches) {
    fingers = touches.length;
    if (fingers === 1 && !last) {
        last = touches[0];
        return press(last, 0);
    }
    if (last) release(last);
    if (fingers === 2) {
        mouse('mousemove', last = spread(touches));
        // The program sees one button after the other, and where it is, from picture to picture.
        setTimeout(() => { if (fingers === 2 && Module._swashwright_on_picture()) press(last, 1); }, 60);
        return;
    }
    if (fingers > 0) return;
    last = null;
    setTimeout(() => { if (fingers === 0) mouse('mouseleave', {clientX: -1, clientY: -1}); }, 100);
}

for (const type of ['touchstart', 'touchmove', 'touchend', 'touchcancel'])
    canvas.addEventListener(type, touched, {capture: true, passive: false});

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
    const asked = new URLSearchParams(location.search), given = await sceneOfAddress();
    if (given) Module.FS.writeFile('/given.toml', given);
    const [width, height] = size();
    Module.callMain([given ? '/given.toml' : '', asked.get('lesson') || '', asked.has('report') ? '/report.json' : '',
        String(width), String(height)]);
    if (failed) return;
    new ResizeObserver(fit).observe(canvas);
    addEventListener('resize', fit);
    say('');
    canvas.focus();
    if (!stores)
        Module.ccall('swashwright_tell', null, ['string'],
            ['Nothing is kept in the browser from this page: another one with this program is open, or storage is off.']);
    // Where the browser allows it the page opens without a network from now on.
    if (navigator.serviceWorker) navigator.serviceWorker.register('offline.js').catch(() => {});
}

async function instantiate(imports, receive) {
    const response = await fetch('swashwright.wasm');
    const out = await WebAssembly.instantiate(await response.arrayBuffer(), imports);
    compiled = out.module;
    receive(out.instance, compiled);
}

globalThis.Module = {
    canvas,
    preRun: [() => { Module.ENV.XDG_STATE_HOME = kept + '/state'; }],
    page: {send, stop, askForFiles() { picker.click(); }, handOut, handOutAddress, copied: copy,
        keepPicture, print: printSheet, fail},
    instantiateWasm(imports, receive) {
        instantiate(imports, receive).catch((error) => fail('The program cannot be loaded: ' + error));
        return {};
    },
    onAbort(why) { fail('The program stopped: ' + why); },
    onRuntimeInitialized() { start().catch((error) => fail('The program cannot start: ' + error)); },
};
