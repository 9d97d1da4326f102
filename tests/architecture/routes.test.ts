import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Address } from '../../server/plumbing/access.ts';
import { routes } from '../../server/routes.ts';
import { testApp } from '../support/test-app.ts';
import { root } from './sources.ts';

const kept = join(root, 'tests/architecture/routes.txt');

const lineOf = ({ method, path, access, beforeSetUp, upload }: Address) =>
  [
    `${access}`.padEnd(6),
    method.padEnd(4),
    path,
    beforeSetUp ? '(before set-up)' : '',
    upload ? `(up to ${upload.maxBytes / 1_000_000} MB)` : '',
  ]
    .filter(Boolean)
    .join(' ');

const byPath = (a: Address, b: Address) =>
  a.path < b.path ? -1 : a.path > b.path ? 1 : a.method < b.method ? -1 : 1;

describe('the addresses', () => {
  it('are those of the kept list (UPDATE_GOLDEN=1 writes it anew, to be looked at)', async () => {
    const { app } = await testApp();
    const list = app.surface.filter(({ method }) => method !== 'HEAD').sort(byPath);
    const text = `${list.map(lineOf).join('\n')}\n`;
    if (process.env.UPDATE_GOLDEN === '1') writeFileSync(kept, text);
    expect(text).toBe(existsSync(kept) ? readFileSync(kept, 'utf8') : '');
  });

  it('are answered by handlers that have names', () => {
    const nameless = routes.filter(({ handler }) => handler.name === '' || handler.name === 'handler');
    expect(nameless.map(({ method, path }) => `${method} ${path}`)).toEqual([]);
  });

  it('read with GET and write with POST, each once', async () => {
    const { app } = await testApp();
    const seen = app.surface.map(({ method, path }) => `${method} ${path}`);
    expect(new Set(seen).size).toBe(seen.length);
    expect([...new Set(app.surface.map(({ method }) => method))].sort()).toEqual(['GET', 'HEAD', 'POST']);
  });
});
