import type { Furniture } from '../../views/layout/furniture.ts';
import type { Keeper } from '../plumbing/backups.ts';
import type { Disk } from '../plumbing/disk.ts';
import type { Pause } from '../plumbing/pause.ts';

type Warning = NonNullable<Furniture['warnings']>[number];

const toBackups = { link: { href: '/settings/backups', label: 'To the backups' } };

function ofBackups(keeper: Keeper): Warning[] {
  if (keeper.progress()) return [];
  const failed = keeper.lastFailure() !== null;
  // A new business has none for a minute or two: nobody needs to take care.
  if (!failed && keeper.lastProvenAt() === null)
    return [
      {
        ...toBackups,
        tone: 'plain',
        text: 'No backup has been proven yet: the first is made by itself in a minute or two.',
      },
    ];
  if (keeper.isLate())
    return [
      {
        ...toBackups,
        tone: 'harm',
        text: failed
          ? 'No backup has been proven for a day and a half: the last tries failed.'
          : 'No backup has been proven for a day and a half.',
      },
    ];
  return failed ? [{ ...toBackups, tone: 'needs-you', text: 'The last backup failed.' }] : [];
}

function ofDisk(disk: Disk): Warning[] {
  const free = disk.freeBytes();
  if (free === null || !disk.isGettingFull()) return [];
  const left = `${Math.floor(free / 1e6)} MB are left`;
  return [
    disk.isLow()
      ? { ...toBackups, tone: 'harm', text: `The disk is nearly full (${left}): nothing can be saved.` }
      : { ...toBackups, tone: 'needs-you', text: `The disk is getting full: ${left}.` },
  ];
}

/** What the owner is told on every page, because nobody else would notice. */
export const warningsOf = (keeper: Keeper | null, disk: Disk | null): Warning[] => [
  ...(disk ? ofDisk(disk) : []),
  ...(keeper ? ofBackups(keeper) : []),
];

/** What everybody is told who opens a page, also to sign in. */
export const warningsOfPause = (pause: Pause | null): Warning[] =>
  pause
    ? [
        {
          tone: 'needs-you',
          word: 'Only reading',
          text: `Nothing can be saved for a while, and nobody can sign in. ${pause.words}`.trim(),
        },
      ]
    : [];

/** On every page of a copy without persons: it looks like the real one. */
export const warningOfTrial: Warning = {
  tone: 'needs-you',
  word: 'A copy for trying things',
  text: 'Nobody real is in it, no mail leaves it, and what is done here happens nowhere else.',
};
