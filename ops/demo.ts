// `npm run demo`: an invented business to look around in. Made anew at every start, in a folder of its own, so that
// nothing done in it lasts and no real data can be touched.
import { mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { demoPeople } from './demo/business.ts';
import { makeDemo } from './demo/make.ts';

const folder = process.env.DEMO_DIR ?? fileURLToPath(new URL('../demo-data', import.meta.url));

rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true, mode: 0o700 });
const startedAt = Date.now();
await makeDemo(join(folder, 'broodbench.db'), startedAt, (words) => console.log(words));
console.log(`The demo is ready (${Math.round((Date.now() - startedAt) / 1000)} s). Sign in as one of these:`);
for (const person of demoPeople)
  console.log(`  ${person.role}: ${person.signInName}   password: ${person.password}`);

process.env.DATA_DIR = folder;
// The backups of a real business are nothing to be tidied up by a demo, nor sent anything.
for (const name of ['BACKUP_DIR', 'BACKUP_HOOK']) {
  delete process.env[name];
  delete process.env[`${name}_FILE`];
}
process.env.LOG_LEVEL ??= 'warn';
await import('./start.mjs');
