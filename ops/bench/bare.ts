import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';

const bare = (
  path: string,
) => `<!doctype html><html lang="en"><title>bare</title><main><p id="said">${path}</p>
<button>Ask</button> <a href="${path === '/a' ? '/b' : '/a'}">Next</a></main>
<script>document.querySelector('button').onclick = async () => {
  const text = await (await fetch('/part', { method: 'POST' })).text();
  document.getElementById('said').textContent = text;
};</script></html>`;

/** What a browser and a machine need for the least there is: a line of text asked for and shown, a bare page opened. */
export async function startBare() {
  let asked = 0;
  const server = createServer((request, response) => {
    asked += 1;
    response.setHeader('content-type', 'text/html; charset=utf-8');
    response.end(request.method === 'POST' ? `answer ${asked}` : bare(request.url ?? '/a'));
  });
  await new Promise<void>((next) => server.listen(0, '127.0.0.1', next));
  const { port } = server.address() as AddressInfo;
  return { base: `http://127.0.0.1:${port}`, stop: () => new Promise((next) => server.close(next)) };
}
