import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addDays } from '../../shared/days.ts';
import type { Contact } from '../../shared/lines/form.ts';
import { trace } from '../../shared/lines/trace.ts';
import {
  deskSheet,
  mostDrawn,
  type PictureNode,
  phoneSheet,
  planPicture,
} from '../../views/traces/picture-plan.ts';
import { dayWriter, traceHref, wayWords } from '../../views/traces/say.ts';

const contact = (date: string, from: string, to: string, kind: Contact['kind'] = 'split'): Contact => ({
  date,
  from,
  to,
  kind,
});

/** The nodes of a picture as the page makes them from a trace. */
function nodesOf(contacts: Contact[]): PictureNode[] {
  const { downstream, orders } = trace({ contacts, flagged: { code: 'K0', since: '2026-11-01' } });
  const nodes = [
    ...downstream.map(({ code, contacts: way }) => ({ name: code, isOrder: false, way })),
    ...orders.map(({ code, contacts: way }) => ({ name: code, isOrder: true, way })),
  ];
  const dayOf = (node: PictureNode) => node.way.at(-1)!.date;
  return nodes.sort((a, b) =>
    dayOf(a) === dayOf(b) ? a.way.length - b.way.length : dayOf(a) < dayOf(b) ? -1 : 1,
  );
}

describe('the picture of the ways', () => {
  test('a row for each, families together, each a step to the right of the one before', () => {
    const nodes = nodesOf([
      contact('2026-11-02', 'K0', 'K1'),
      contact('2026-11-02', 'K1', 'K3', 'feeders'),
      contact('2026-11-03', 'K0', 'K2'),
      contact('2026-11-04', 'K1', '12', 'order'),
    ]);
    const { nodes: planned, days, notDrawn } = planPicture('K0', nodes, deskSheet);
    expect(planned.map(({ name }) => name)).toEqual(['K0', 'K1', 'K3', '12', 'K2']);
    expect(planned.map(({ from }) => planned.find((n) => n.x === from?.x && n.y === from.y)?.name)).toEqual([
      undefined,
      'K0',
      'K1',
      'K1',
      'K0',
    ]);
    expect(days.map(({ day }) => day)).toEqual(['2026-11-02', '2026-11-03', '2026-11-04']);
    expect(notDrawn).toBe(0);
  });

  test('on any contacts: lines go right and down, rows are apart, words have room, no more than fit', () => {
    const some = fc.array(
      fc.record({
        day: fc.integer({ min: 0, max: 20 }),
        from: fc.integer({ min: 0, max: 60 }),
        to: fc.integer({ min: 0, max: 60 }),
        kind: fc.constantFrom('split', 'order', 'shared tool'),
      }),
      { maxLength: 200 },
    );
    fc.assert(
      fc.property(some, fc.constantFrom(deskSheet, phoneSheet), (list, sheet) => {
        const nodes = nodesOf(
          list.map(({ day, from, to, kind }) =>
            contact(addDays('2026-11-01', day), `K${from}`, `K${to}`, kind),
          ),
        );
        const plan = planPicture('K0', nodes, sheet);
        expect(plan.nodes.length + plan.notDrawn).toBe(nodes.length + 1);
        expect(plan.nodes.length).toBeLessThanOrEqual(mostDrawn + 1);
        for (const [row, { x, y, from, by }] of plan.nodes.entries()) {
          expect(x + sheet.words).toBeLessThanOrEqual(sheet.width + 0.001);
          expect(row === 0 || y > plan.nodes[row - 1]!.y).toBe(true);
          expect(y).toBeLessThan(plan.height);
          if (by === null) continue;
          expect(from!.x < x && from!.y < y).toBe(true);
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe('the words of a way', () => {
  const day = dayWriter('2026-11-25', 'en-GB');

  test('tell each step, and of a very long way its ends', () => {
    const way = Array.from({ length: 9 }, (_, i) => contact('2026-11-02', `K${i}`, `K${i + 1}`));
    expect(wayWords([contact('2025-11-02', 'A', 'B', 'shared tool')], day)).toBe(
      'same tools at B on 2 Nov 2025',
    );
    expect(wayWords(way, day)).toBe(
      [1, 2, 3].map((n) => `split off to K${n} on 2 Nov; then `).join('') +
        '3 more contacts; then ' +
        [7, 8, 9].map((n) => `split off to K${n} on 2 Nov`).join('; then '),
    );
  });

  test('an address carries what was asked, the usual left out', () => {
    expect(
      traceHref('A/1', { what: 'wrong species', since: '2026-11-01', back: '90', sort: 'day' }, '/notices'),
    ).toBe('/cultures/A%2F1/trace/notices?what=wrong+species&since=2026-11-01');
  });
});
