import { expect, it } from 'vitest';
import { trace } from '../../shared/lines/trace.ts';
import { sayTrace } from '../../views/traces/say-worked-out.ts';

it('a trace is said with its days and, way by way, why each culture is in', () => {
  const contacts = [
    { date: '2026-11-01', from: 'D', to: 'A', kind: 'addition' as const },
    { date: '2026-11-04', from: 'A', to: 'B', kind: 'feeders' as const },
    { date: '2026-11-09', from: 'B', to: 'C', kind: 'split' as const },
  ];
  const row = { id: 1, status: 'active', scientificName: 'Exemplum', place: null, health: 'well' } as const;
  const asked = { since: '2026-11-03', seen: '2026-11-10', back: '30' } as const;
  const down = trace({ contacts, flagged: { code: 'A', since: asked.since } });
  const up = trace({ contacts, flagged: { code: 'A', since: asked.seen } });
  const found = {
    downstream: down.downstream.map((one) => ({ ...row, ...one, onDay: one.earliest, way: one.contacts })),
    upstream: up.upstream.map((one) => ({ ...row, ...one, onDay: one.latest, way: one.contacts })),
  };
  // 3 to 25 November are 23 days with both ends; thirty days before 10 November is 11 October.
  expect(sayTrace({ code: 'A', asked, found, today: '2026-11-25' })).toEqual([
    'Gone on from A: contacts from 3 Nov until 25 Nov, 23 days with both ends.',
    'Come to A: contacts up to 10 Nov, and from 11 Oct on, 30 days before it was seen.',
    'B: 3 Nov ≤ 4 Nov to B, so first on 4 Nov, by 1 contact.',
    'C: 3 Nov ≤ 4 Nov to B ≤ 9 Nov to C, so first on 9 Nov, by 2 contacts.',
    'D: 1 Nov to A ≤ 10 Nov seen, so last on 1 Nov, by 1 contact.',
  ]);
  const early = { ...asked, since: '2026-10-01' };
  expect(sayTrace({ code: 'A', asked: early, found, today: '2026-11-25' })[1]).toBe(
    'Come to A: contacts up to 10 Nov, and from 1 Oct on, since when it is taken to be there: more than 30 days before it was seen.',
  );
  expect(sayTrace({ code: 'A', asked: { ...asked, back: 'all' }, found, today: '2026-11-25' })[1]).toBe(
    'Come to A: contacts up to 10 Nov, as far back as any is written down.',
  );
  expect(sayTrace({ code: 'A', asked, found: null, today: '2026-11-25' })).toEqual([]);
});
