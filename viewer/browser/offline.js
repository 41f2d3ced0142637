// Keeps the page's own files for when there is no network: those that were fetched last, all of them from the first visit.
'use strict';

const shelf = 'swashwright';
const all = ['./', 'page.css', 'page.js', 'address.js', 'input.js', 'print.js', 'storage.js', 'worker.js',
    'workers.js', 'data.js', 'swashwright.js', 'swashwright.wasm', 'swashwright.data', 'swashwright.svg'];

async function fetched(request) {
    const cache = await caches.open(shelf);
    try {
        const fresh = await fetch(request);
        if (fresh.ok) await cache.put(request, fresh.clone()).catch(() => {});  // where there is no room
        return fresh;
    } catch (error) {
        const kept = await cache.match(request, {ignoreSearch: true});
        if (kept) return kept;
        throw error;
    }
}

oninstall = (event) => event.waitUntil(caches.open(shelf).then((cache) => cache.addAll(all)).then(() => skipWaiting()));
onactivate = (event) => event.waitUntil(clients.claim());
onfetch = (event) => {
    if (event.request.method === 'GET' && new URL(event.request.url).origin === location.origin)
        event.respondWith(fetched(event.request));
};
