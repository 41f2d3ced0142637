// One worker of the page: the same program without a window. It gets the compiled module first, then one task after
// another; what it says goes back as it comes (viewer/browser/task.cpp).
'use strict';

let ready;

function start(compiled) {
    ready = new Promise((resolve, reject) => {
        self.Module = {
            instantiateWasm(imports, receive) {
                WebAssembly.instantiate(compiled, imports).then((instance) => receive(instance, compiled)).catch(reject);
                return {};
            },
            tell(what, value) { postMessage({what, value}, value.buffer ? [value.buffer] : []); },
            onRuntimeInitialized: resolve,
        };
        importScripts('swashwright.js');
    });
}

async function work({task, bytes}) {
    await ready;
    const place = Module._malloc(bytes.length);
    Module.HEAPU8.set(bytes, place);
    Module._swashwright_do(task, place, bytes.length);
    Module._free(place);
}

onmessage = ({data}) => {
    if (data.module) return start(data.module);
    work(data).catch((error) => postMessage({what: 3, value: String(error)}));
};
