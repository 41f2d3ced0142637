const canvas = document.getElementById('head');

/// In the picture's corner, as the program tells things.
export function tell(words) {
    Module.ccall('swashwright_tell', null, ['string'], [words]);
}

// Clipboard. The browser gives what is on it with its own paste alone, so Ctrl+V goes on to the program after that.

export function copy(text) {
    const refused = () => tell('Nothing was put on the clipboard: the browser does not allow it.');
    if (navigator.clipboard) return void navigator.clipboard.writeText(text).catch(refused);
    const field = document.createElement('textarea');
    field.value = text;
    document.body.append(field);
    field.select();
    if (!document.execCommand('copy')) setTimeout(refused);
    field.remove();
    canvas.focus();
}

const keyCodes = {Control: 17, v: 86};

function key(type, name) {
    const event = new KeyboardEvent(type, {key: name, bubbles: true});
    Object.defineProperty(event, 'keyCode', {value: keyCodes[name]});
    canvas.dispatchEvent(event);
}

let ctrlHeld = false;
for (const type of ['keydown', 'keyup'])
    addEventListener(type, (event) => { if (event.isTrusted) ctrlHeld = event.ctrlKey; }, {capture: true});

// It may come when Ctrl has been let go, or by another key.
addEventListener('paste', (event) => {
    if (!Module.page.started) return;
    Module.ccall('swashwright_pasted', null, ['string'], [event.clipboardData.getData('text/plain')]);
    const keys = ctrlHeld ? ['v'] : ['Control', 'v'];
    for (const name of keys) key('keydown', name);
    for (const name of keys.reverse()) key('keyup', name);
});

// Keys. The program gets all but those without which a browser cannot be used; the browser none that the program takes.

const browsersKeys = /^(F5|F11|F12)$/, browsersWithCtrl = /^[tnwrlqjhdu0-9]$|^Tab$/i;
const programsKeys = /^(F1|F6|F7|F8|F9|Tab|Backspace|Home|End|Page(Up|Down)|Arrow.*)$/, programsWithCtrl = /^[sopzykfga+=-]$/i;

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
        apart: Math.max(1, Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY))};
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
