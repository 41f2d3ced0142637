// A plain static server of one folder, as anybody has: no header but the kind of file. Notes what was asked for.
import {createServer} from 'node:http';
import {readFile} from 'node:fs/promises';
import {extname, join, normalize} from 'node:path';

const kinds = {'.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.wasm': 'application/wasm',
    '.svg': 'image/svg+xml'};

export async function serve(folder) {
    const asked = [];
    const server = createServer(async (request, response) => {
        const path = normalize(decodeURIComponent(new URL(request.url, 'http://here').pathname));
        asked.push(path);
        try {
            const bytes = await readFile(join(folder, path === '/' ? 'index.html' : path));
            response.writeHead(200, {'Content-Type': kinds[extname(path) || '.html'] || 'application/octet-stream'});
            response.end(bytes);
        } catch {
            response.writeHead(404).end();
        }
    });
    await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
    return {address: `http://127.0.0.1:${server.address().port}/`, asked, close: () => server.close()};
}
