import { openDatabase, type Sqlite } from '../../server/plumbing/open-database.ts';
import type { OrderState } from '../../shared/orders/states.ts';
import type { Action } from './storm-actions.ts';

/** Every mark in the records and how often it is there, by the client's name for it. */
export function marksIn(sqlite: Sqlite): Map<string, number> {
  const rows = sqlite
    .prepare(
      `SELECT substr(note, 1, instr(note, '.')) AS name, count(*) AS n FROM diary WHERE note LIKE 'mark %' GROUP BY 1
       UNION ALL SELECT 'all well', count(*) FROM diary WHERE kind = 'check' AND note = ''
       UNION ALL SELECT note, count(*) FROM orders WHERE note LIKE 'mark %' GROUP BY 1
       UNION ALL SELECT name, count(*) FROM order_requests GROUP BY 1
       UNION ALL SELECT name, count(*) FROM customers
         WHERE name LIKE 'mark %' AND name NOT IN (SELECT name FROM order_requests) GROUP BY 1
       UNION ALL SELECT substr(after, instr(after, 'mark '), instr(substr(after, instr(after, 'mark ')), '.')), count(*)
         FROM audit WHERE subject = 'business' AND instr(after, 'mark ') > 0 GROUP BY 1`,
    )
    .all() as { name: string; n: number }[];
  const marks = new Map<string, number>();
  for (const { name, n } of rows) if (n > 0) marks.set(name, (marks.get(name) ?? 0) + n);
  return marks;
}

function told(actions: readonly Action[]): Map<string, number> {
  const times = new Map<string, number>();
  for (const action of actions) times.set(action.name, (times.get(action.name) ?? 0) + action.times);
  return times;
}

/** What was acknowledged and is not there, or less often; in words. */
export function lostFrom(marks: Map<string, number>, actions: readonly Action[]): string[] {
  return [...told(actions)].flatMap(([name, times]) => {
    const there = marks.get(name) ?? 0;
    return there < times ? [`${name} was acknowledged ${times} times and is there ${there} times`] : [];
  });
}

/** Once everybody has heard an answer to everything: what is there and was never acknowledged, or more often. */
export function tooMuchIn(marks: Map<string, number>, actions: readonly Action[]): string[] {
  const times = told(actions);
  return [...marks].flatMap(([name, there]) => {
    const acknowledged = times.get(name) ?? 0;
    return there > acknowledged
      ? [`${name} is there ${there} times, acknowledged ${acknowledged} times`]
      : [];
  });
}

const steps: readonly OrderState[] = ['confirmed', 'packed', 'sent', 'closed'];
const from = (state: OrderState) =>
  `o.state IN (${steps
    .slice(steps.indexOf(state))
    .map((one) => `'${one}'`)
    .join(', ')})`;
const mail = (kind: string) =>
  `(SELECT count(*) FROM mails m WHERE m.order_id = o.id AND m.kind = '${kind}')`;
const groups = (state: string) => `(SELECT total(a.groups) FROM allocations a
  JOIN order_lines l ON l.id = a.order_line_id WHERE l.order_id = o.id AND a.state = '${state}')`;
const isOf = `count(*) FROM diary d WHERE d.order_id = o.id AND d.kind = 'harvest'`;

/** What must never be found, as what it is called and how it is asked for. */
const broken: Record<string, string> = {
  'rows without their parent': 'SELECT * FROM pragma_foreign_key_check',
  'splits without their culture, or the other way round': `SELECT id FROM diary
    WHERE kind = 'split' AND other_culture_id NOT IN (SELECT id FROM cultures)
    UNION ALL SELECT id FROM cultures c WHERE origin = 'split' AND 1 <>
    (SELECT count(*) FROM diary d WHERE d.kind = 'split' AND d.other_culture_id = c.id)`,
  'orders without a line or without a history': `SELECT id FROM orders o
    WHERE NOT EXISTS (SELECT 1 FROM order_lines l WHERE l.order_id = o.id)
    OR NOT EXISTS (SELECT 1 FROM order_history h WHERE h.order_id = o.id)`,
  'orders that took the same step twice, or not the one they stand at': `SELECT id FROM orders o WHERE
    (SELECT count(*) FROM order_history h WHERE h.order_id = o.id AND h.state = o.state AND o.state <> 'draft') > 1
    OR NOT EXISTS (SELECT 1 FROM order_history h WHERE h.order_id = o.id AND h.state = o.state)`,
  'drafts with a mail, or with more than their group': `SELECT id FROM orders o
    WHERE o.state = 'draft' AND (${mail('order confirmed')} > 0 OR ${groups('reserved')} > 1)`,
  'confirmed orders without exactly one mail': `SELECT id FROM orders o
    WHERE ${from('confirmed')} AND 1 <> ${mail('order confirmed')}`,
  'confirmed orders without exactly their group': `SELECT id FROM orders o WHERE o.state = 'confirmed'
    AND (1 <> ${groups('reserved')} OR 0 <> (SELECT ${isOf}))`,
  'packed orders without exactly one harvest': `SELECT id FROM orders o WHERE ${from('packed')}
    AND (1 <> ${groups('packed')} OR 0 <> ${groups('reserved')} OR 1 <> (SELECT ${isOf}))`,
  'sent orders without exactly one mail, or others with one': `SELECT id FROM orders o
    WHERE ${mail('order sent')} <> (${from('sent')})`,
  'orders with two invoices or payments': `SELECT id FROM orders o
    WHERE 1 < (SELECT count(*) FROM invoices i WHERE i.order_id = o.id)
    OR 1 < (SELECT count(*) FROM payments p WHERE p.order_id = o.id)`,
  'closed orders without an invoice and a payment': `SELECT id FROM orders o WHERE o.state = 'closed'
    AND (NOT EXISTS (SELECT 1 FROM invoices i WHERE i.order_id = o.id)
    OR NOT EXISTS (SELECT 1 FROM payments p WHERE p.order_id = o.id))`,
  'gaps in the numbers of invoices':
    'SELECT 1 FROM (SELECT count(*) AS n, max(id) - min(id) + 1 AS span FROM invoices) WHERE n > 0 AND n <> span',
  'invoices by half': `SELECT id FROM invoices i
    WHERE NOT EXISTS (SELECT 1 FROM invoice_lines l WHERE l.invoice_id = i.id)
    OR 1 <> (SELECT count(*) FROM invoice_buyers b WHERE b.invoice_id = i.id)`,
  'requests without a line, or taken without their order': `SELECT id FROM order_requests r
    WHERE NOT EXISTS (SELECT 1 FROM order_request_lines l WHERE l.request_id = r.id)
    OR (r.state = 'taken') <> (SELECT count(*) FROM customers c WHERE c.name = r.name)
    OR (r.state = 'taken') <> (SELECT count(*) FROM orders o WHERE o.id = r.order_id)`,
  'photos without their file': `SELECT id FROM count_photos p
    WHERE 1 <> (SELECT count(*) FROM count_photo_files f WHERE f.photo_id = p.id)`,
  'counts on a photo without exactly one': `SELECT id FROM diary d WHERE note LIKE 'mark % on a photo'
    AND 1 <> (SELECT count(*) FROM count_photos p WHERE p.diary_id = d.id)`,
  'looks without the water and the food that was given at them': `SELECT 1 WHERE
    (SELECT count(*) FROM diary WHERE note LIKE 'mark % whole') <> (SELECT count(*) FROM diary WHERE kind = 'water')
    OR (SELECT count(*) FROM diary WHERE note LIKE 'mark % whole') <> (SELECT count(*) FROM diary WHERE kind = 'feed')`,
  'cultures that promised more than they can spare': `SELECT c.id FROM cultures c
    JOIN culture_estimates e ON e.culture_id = c.id WHERE e.promisable < (SELECT total(a.animals)
    FROM allocations a WHERE a.culture_id = c.id AND a.state = 'reserved' AND a.override_reason IS NULL)`,
  'two mails of one step': 'SELECT tells_of FROM mails GROUP BY tells_of, kind HAVING count(*) > 1',
  'keys of forms that were kept twice':
    'SELECT form_key FROM form_keys GROUP BY form_key, path HAVING count(*) > 1',
};

/** What must hold whatever was cut off where; what is broken, in words. */
export function brokenIn(database: string): string[] {
  const { sqlite } = openDatabase(database);
  try {
    return [
      ...(sqlite.pragma('integrity_check', { simple: true }) === 'ok' ? [] : ['the database is damaged']),
      ...Object.entries(broken).flatMap(([what, sql]) => {
        const n = sqlite.prepare(`SELECT count(*) FROM (${sql})`).pluck().get() as number;
        return n > 0 ? [`${n} ${what}`] : [];
      }),
    ];
  } finally {
    sqlite.close();
  }
}

/** As if the minute had passed in which a step can be taken back. */
export function hastenMails(database: string) {
  const { sqlite } = openDatabase(database);
  sqlite.prepare("UPDATE mails SET next_try_at = 0 WHERE state = 'waiting'").run();
  sqlite.close();
}

/** What the mail server was given twice, and what is called sent and never came to it. */
export function brokenMails(database: string, received: readonly { raw: string }[]): string[] {
  const { sqlite } = openDatabase(database);
  const rows = sqlite.prepare('SELECT message_id AS id, state FROM mails').all() as {
    id: string;
    state: string;
  }[];
  sqlite.close();
  const times = new Map<string, number>();
  for (const { raw } of received) {
    const id = /^Message-ID: (<.+>)\s*$/im.exec(raw)?.[1] ?? 'none';
    times.set(id, (times.get(id) ?? 0) + 1);
  }
  const handed = ['sending', 'sent', 'unsure'];
  return [
    ...[...times].flatMap(([id, n]) => (n > 1 ? [`${id} came ${n} times`] : [])),
    ...[...times.keys()].flatMap((id) =>
      rows.some((row) => row.id === id && handed.includes(row.state)) ? [] : [`${id} came and nobody knows`],
    ),
    ...rows.flatMap(({ id, state }) =>
      state === 'sent' && !times.has(id) ? [`${id} is called sent and never came`] : [],
    ),
    ...rows.flatMap(({ id, state }) => ([...handed, 'waiting'].includes(state) ? [] : [`${id} is ${state}`])),
  ];
}
