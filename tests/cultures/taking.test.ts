import { describe, expect, it } from 'vitest';
import { noteWithReason, standingObjections, unanswered } from '../../shared/cultures/objections.ts';
import { formatShare } from '../../shared/cultures/share-words.ts';
import {
  contradiction,
  heldObjection,
  objectionsToTaking,
  type Taking,
  tooMany,
} from '../../shared/cultures/taking.ts';

const taking: Taking = {
  animals: 20,
  mostThere: 118.4,
  chance: 0.95,
  confidence: 0.9,
  reserve: 71.2,
  promised: 0,
  onDay: '2026-11-25',
  faults: { before: null, after: null },
};
const names = (more: Partial<Taking>) =>
  objectionsToTaking({ ...taking, ...more }, 'EX-1', 'tick').map((o) => o.name);

describe('taking animals out', () => {
  it('cannot take more than can have been there', () => {
    expect(tooMany({ ...taking, animals: 119 })).toBeNull();
    expect(tooMany({ ...taking, animals: 120 })).toContain('At most about 118 animals');
    expect(tooMany({ ...taking, animals: 1, mostThere: 0 })).toContain('no animals were there');
    expect(tooMany({ ...taking, animals: 9999, mostThere: null })).toBeNull();
  });

  it('is spoken against where what stays may be too little, or is not known', () => {
    expect(names({})).toEqual([]);
    expect(names({ chance: 0.9 })).toEqual([]);
    expect(names({ chance: 0.8999 })).toEqual(['reserve']);
    expect(names({ chance: null, faults: { before: 'old', after: 'old' } })).toEqual(['reserve']);
    const [against] = objectionsToTaking({ ...taking, chance: 0.5, promised: 14 }, 'EX-1', 'tick');
    expect(against?.text).toContain('72 animals must stay in EX-1, and 14 are promised to orders.');
    expect(against?.text).toContain('is 50\u00a0%; 90\u00a0% is wanted');
  });

  it('is spoken against where the diary contradicts itself anew', () => {
    const after = 'The diary contradicts itself on 2026-10-01: so many';
    expect(names({ chance: null, faults: { before: null, after } })).toEqual(['contradiction']);
    expect(contradiction({ before: null, after }, '2026-10-01', 'tick')?.text).toContain('This does not fit');
    expect(contradiction({ before: null, after }, '2026-09-01', 'tick')?.text).toContain(
      'the count of 2026-10-01',
    );
    expect(contradiction({ before: after, after }, '2026-09-01', 'tick')).toBeNull();
  });

  it('is spoken against where mites or a quarantine go along', () => {
    expect(heldObjection('mites', 'EX-1', 'tick')?.name).toBe('held');
    expect(heldObjection('quarantine', 'EX-1', 'tick')?.name).toBe('held');
    for (const health of ['well', 'mould', 'die-off'])
      expect(heldObjection(health, 'EX-1', 'tick')).toBeNull();
  });
});

describe('overruling', () => {
  const reserve = objectionsToTaking({ ...taking, chance: 0.1 }, 'EX-1', 'tick')[0]!;
  const held = heldObjection('mites', 'EX-1', 'tick')!;
  const told = { despite: ['reserve', 'held'], reason: 'why not' };

  it('takes a tick for each, and the owner for what is the owner’s', () => {
    expect(standingObjections([reserve, held], { despite: ['held'] }, true)).toEqual([reserve]);
    expect(standingObjections([reserve, held], told, false)).toEqual([reserve]);
    expect(standingObjections([reserve, held], told, true)).toEqual([]);
  });

  it('takes a reason', () => {
    expect(unanswered([], { despite: [], reason: '' }, false)).toBeNull();
    expect(unanswered([held], told, false)).toBeNull();
    expect(unanswered([held], { ...told, reason: '' }, false)?.errors).toEqual({
      reason: 'Say why in a few words.',
    });
    const contradicted = contradiction({ before: null, after: 'on 2026-10-01' }, '2026-10-01', 'tick')!;
    expect(unanswered([contradicted], { despite: ['contradiction'], reason: '' }, false)).toBeNull();
  });

  it('is kept in the note', () => {
    expect(noteWithReason('sold', [], 'ignored')).toBe('sold');
    expect(noteWithReason('', [reserve, held], 'why not')).toBe(
      'Although what stays may fall below the reserve, and the culture is held for its health: why not',
    );
  });
});

describe('a share in words', () => {
  it('is never rounded up to a certainty', () => {
    const words = [1, 0.9999, 0.95, 0.29, 0.004, 0].map(formatShare);
    expect(words).toEqual(['100', '99', '95', '29', 'less than 1', '0'].map((number) => `${number}\u00a0%`));
  });
});
