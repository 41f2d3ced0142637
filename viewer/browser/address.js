import {copy} from './input.js';

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

export async function handOutAddress(text) {
    const scene = new TextEncoder().encode(text);
    if (scene.length > longestScene) throw new Error('the head is too large');
    const bytes = await through(new CompressionStream('deflate-raw'), scene);
    const code = btoa(Array.from(bytes, (b) => String.fromCharCode(b)).join('')).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '');
    history.replaceState(null, '', '#head=' + code);
    copy(location.href);
}

/// Fails with a sentence where it is none.
export async function sceneOfAddress() {
    const code = /^#head=([\w-]+)$/.exec(location.hash);
    if (!code) return '';
    try {
        const bytes = atob(code[1].replace(/-/g, '+').replace(/_/g, '/'));
        return await through(new DecompressionStream('deflate-raw'), Uint8Array.from(bytes, (c) => c.charCodeAt(0)));
    } catch {
        throw new Error('The address was cut short, or holds something else than a head.');
    }
}

addEventListener('hashchange', () => location.reload());
