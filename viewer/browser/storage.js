import {tell} from './input.js';

// Files. What stands below `kept` goes to the browser's storage soon after it changes; of several pages with this
// program the first has it.

const kept = '/kept', ownFiles = kept + '/files', unsaved = kept + '/state/swashwright/unsaved';
export const stateFolder = kept + '/state';
export let stores = false;
let storing = false, storeAgain = false, failing = false;

export function store() {
    if (!stores) return;
    if (storing) return void (storeAgain = true);
    storing = true;
    Module.FS.syncfs(false, (error) => {
        storing = false;
        if (error && !failing && Module.page.started)
            tell('The browser keeps nothing of this page just now: its storage is full or refused. Save to have a copy.');
        failing = Boolean(error);
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

export async function openStorage() {
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
    if (!Module.page.started) return;
    const taken = [];
    for (const file of list) {
        const path = ownFiles + '/' + file.name.replace(/[/\\]/g, '_');
        try {
            Module.FS.writeFile(path, new Uint8Array(await file.arrayBuffer()));
            taken.push(path);
        } catch {  // a folder, say
            tell(`${file.name} cannot be read. Hand in files, one by one or together.`);
        }
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
    document.getElementById('head').focus();
};
addEventListener('dragover', (event) => event.preventDefault());
addEventListener('drop', (event) => {
    event.preventDefault();
    event.stopImmediatePropagation();
    handIn(event.dataTransfer.files);
}, {capture: true});

export function handOut(path) {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([Module.FS.readFile(path)], {type: 'application/octet-stream'}));
    link.download = path.split('/').pop();
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

export function askForFiles() {
    picker.click();
}
