import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { orderLines, orders } from '../../server/schema/tables.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { testApp } from '../support/test-app.ts';

const writer = fileURLToPath(new URL('write-until-killed.ts', import.meta.url));

/** Runs the writer and kills it, with no time to tidy up, as soon as it has said so many numbers. */
function killAfter(file: string, most: number): Promise<number[]> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, ['--import', 'tsx', writer, file]);
    let said = '';
    child.stdout.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      if (said.split('\n').length > most) child.kill('SIGKILL');
    });
    let wrong = '';
    child.stderr.on('data', (chunk: Buffer) => {
      wrong += chunk.toString();
    });
    child.on('close', (_code, signal) => {
      const numbers = said.split('\n').slice(0, -1).map(Number);
      if (signal === 'SIGKILL') resolve(numbers);
      else reject(new Error(`the writer ended by itself after ${numbers.length}: ${wrong.slice(0, 400)}`));
    });
  });
}

it('invoices have no gap, none twice and no half one after the process was killed while it wrote them', async () => {
  const t = await testApp();
  const customerId = makeCustomer(t.db).id;
  const speciesId = makeSpecies(t.db).id;
  const { id, ...order } = makeOrder(t.db, { customerId, state: 'confirmed' });
  const { id: _line, ...line } = makeLine(t.db, id, speciesId);
  t.db.transaction((tx) => {
    for (let number = 2; number <= 2000; number += 1) {
      const made = tx
        .insert(orders)
        .values({ ...order, number })
        .returning({ orderId: orders.id })
        .get();
      tx.insert(orderLines)
        .values({ ...line, ...made })
        .run();
    }
  });
  const folder = mkdtempSync(join(tmpdir(), 'killed-'));
  const file = join(folder, 'bench.db');
  writeFileSync(file, t.sqlite.serialize());
  const said = await killAfter(file, 40);
  const { sqlite } = openDatabase(file);
  const all = <T>(sql: string) => sqlite.prepare(sql).pluck().all() as T[];
  const ids = all<number>('SELECT id FROM invoices ORDER BY id');
  expect(said.length).toBeGreaterThanOrEqual(40);
  expect(ids).toEqual(ids.map((_, place) => place + 1));
  expect(ids.slice(0, said.length)).toEqual(said);
  expect(all('SELECT DISTINCT invoice_id FROM invoice_lines ORDER BY 1')).toEqual(ids);
  expect(all('SELECT invoice_id FROM invoice_buyers ORDER BY 1')).toEqual(ids);
  expect(sqlite.pragma('foreign_key_check')).toEqual([]);
  sqlite.close();
  rmSync(folder, { recursive: true });
}, 60_000);
