import type { WrittenKind } from '../../shared/cultures/diary-form.ts';

/** What may be written on the page of entries: the words of its chip, of its button, and what it means. */
export const writtenWords: Record<WrittenKind, { label: string; means: string; button: string }> = {
  feed: { label: 'Fed', means: 'What they got to eat.', button: 'Write it down' },
  water: { label: 'Watered', means: 'How much water went in.', button: 'Write it down' },
  'fruit-in': { label: 'Fruit in', means: 'Fresh food that has to come out again.', button: 'Write it down' },
  'fruit-out': { label: 'Fruit out', means: 'What was left of it is out.', button: 'Write it down' },
  harvest: {
    label: 'Taken out',
    means: 'Animals that left this culture: a harvest. What is packed for an order is written by packing it.',
    button: 'Write it down',
  },
  addition: {
    label: 'Put in',
    means: 'Animals that came in, from outside or from another culture.',
    button: 'Write it down',
  },
  'die-off': {
    label: 'Die-off',
    means: 'Many died at once. Nothing of it is offered for sale until it has been counted again.',
    button: 'Write it down',
  },
  mites: {
    label: 'Mites',
    means: 'Nothing of it is offered for sale until a check is clear of mites. Wash hands and tools.',
    button: 'Write it down',
  },
  mould: { label: 'Mould', means: 'Seen until a check is clear of it.', button: 'Write it down' },
  move: { label: 'Moved', means: 'It stands somewhere else now.', button: 'Write it down' },
  quarantine: {
    label: 'Quarantine',
    means: 'Handled last, with tools of its own; nothing of it is offered for sale.',
    button: 'Put it in quarantine',
  },
  release: {
    label: 'Out of quarantine',
    means: 'It may be handled and sold like the others again.',
    button: 'Let it out',
  },
  retirement: {
    label: 'Retired',
    means: 'The culture is no more, or no longer here. Its diary stays readable.',
    button: 'Retire it',
  },
  note: { label: 'Note', means: 'Anything else worth keeping.', button: 'Write it down' },
};

export const writtenGroups: { title: string; kinds: WrittenKind[] }[] = [
  { title: 'Care', kinds: ['feed', 'water', 'fruit-in', 'fruit-out'] },
  { title: 'Animals', kinds: ['harvest', 'addition', 'die-off'] },
  { title: 'Health', kinds: ['mites', 'mould', 'quarantine', 'release'] },
  { title: 'The rest', kinds: ['move', 'note', 'retirement'] },
];
