// Workers: as many as the machine has cores to spare, each ended where its task is not wanted any more. One more stands
// ready, since a worker takes a while to begin: where a hand drags a length, every answer ends one.

const mostWorkers = Math.max(1, Math.min(4, (navigator.hardwareConcurrency || 2) - 1));
let compiled = null;  // the program
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
    const idle = () => [...workers].find((one) => one.number === 0);
    const busy = () => [...workers].filter((one) => one.number !== 0).length;
    while (waiting.length > 0 && busy() < mostWorkers) {
        const worker = idle() || newWorker();
        const {number, task, bytes} = waiting.shift();
        worker.number = number;
        worker.postMessage({task, bytes}, [bytes.buffer]);
    }
    if (busy() > 0 && !idle()) newWorker();
}

export function send(task, bytes) {
    waiting.push({number: ++lastNumber, task, bytes});
    serve();
    return lastNumber;
}

export function stop(number) {
    const at = waiting.findIndex((one) => one.number === number);
    if (at >= 0) return void waiting.splice(at, 1);
    const worker = [...workers].find((one) => one.number === number);
    if (worker) endWorker(worker);
    serve();
}

export function giveProgram(program) {
    compiled = program;
}
