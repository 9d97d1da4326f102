import Database from 'better-sqlite3';
import { expect } from 'vitest';

const lines = (count: number) => 'x\n'.repeat(count);

export const largeDay = '2027-01-11';
export const ordersOfDay = 220;
export const linesOfNote = 10_000;

/** Puts as much into a demo's file as it takes: a note of 1,000 lines, care texts of 10,000, and a day of 220 orders. */
export function withLargePapers(file: string): { order: number; draft: number; species: number } {
  const sqlite = new Database(file);
  const order = sqlite
    .prepare("SELECT id, number FROM orders WHERE state = 'confirmed' ORDER BY id")
    .get() as {
    id: number;
    number: number;
  };
  const { species } = sqlite.prepare('SELECT min(species_id) AS species FROM species_care').get() as {
    species: number;
  };
  sqlite.transaction(() => {
    const note = sqlite.prepare('UPDATE orders SET note = ? WHERE id = ?');
    expect(() => note.run(lines(linesOfNote), order.id)).toThrow('CHECK');
    note.run(lines(linesOfNote / 10), order.id);
    // Five texts of 2,000 lines are what the forms take.
    const text = sqlite.prepare(
      'INSERT OR REPLACE INTO species_care (species_id, heading, text) VALUES (?, ?, ?)',
    );
    for (const heading of ['substrate', 'water', 'food', 'breeding', 'normal'])
      text.run(species, heading, lines(linesOfNote / 5));
    const copied = (table: string, but: string) =>
      (sqlite.prepare(`SELECT name FROM pragma_table_info('${table}')`).pluck().all() as string[]).filter(
        (name) => !but.split(' ').includes(name),
      );
    const ofOrder = copied('orders', 'id number dispatch_on note').join(', ');
    const ofLine = copied('order_lines', 'id order_id').join(', ');
    const addOrder = sqlite.prepare(
      `INSERT INTO orders (number, dispatch_on, note, ${ofOrder})
       SELECT (SELECT max(number) + 1 FROM orders), ?, '', ${ofOrder} FROM orders WHERE id = ?`,
    );
    const addLines = sqlite.prepare(
      `INSERT INTO order_lines (order_id, ${ofLine}) SELECT ?, ${ofLine} FROM order_lines WHERE order_id = ?`,
    );
    for (let count = 0; count < ordersOfDay; count += 1) {
      const { lastInsertRowid } = addOrder.run(largeDay, order.id);
      addLines.run(lastInsertRowid, order.id);
    }
  })();
  const draft = sqlite.prepare("SELECT number FROM orders WHERE state = 'draft'").pluck().get() as number;
  sqlite.close();
  return { order: order.number, draft, species };
}
