import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

const words = {
  'set-up-needs-link': {
    title: 'Not set up yet',
    sentence:
      'Open the one-time link that the service printed on its console when it started. If you cannot see it any more, stop the service and start it again: it prints a new one.',
  },
  'set-up-link-over': {
    title: 'This link does not open the set-up',
    sentence:
      'It may be older than 60 minutes, or the service was started again since. Stop the service and start it again, and open the new link that it prints on its console.',
  },
  'set-up-done': {
    title: 'Already set up',
    sentence: 'This business has its owner, so the set-up page is closed.',
  },
  'invitation-over': {
    title: 'This invitation does not open any more',
    sentence:
      'It may have been used already, withdrawn, or be older than 7 days. If you joined with it before, sign in; otherwise ask the owner for a new one.',
  },
  'reset-over': {
    title: 'This link does not open any more',
    sentence:
      'It may have been used already, or be older than 24 hours. If you chose a password with it before, sign in; otherwise ask the owner for a new one.',
  },
} as const;

export type ClosedReason = keyof typeof words;

/** A link that opens nothing (any more), and what to do about it. */
export function ClosedPage({ furniture, why }: { furniture: Furniture; why: ClosedReason }) {
  const { title, sentence } = words[why];
  const beforeSetUp = why === 'set-up-needs-link' || why === 'set-up-link-over';
  return (
    <Shell furniture={furniture} title={title}>
      <p>{sentence}</p>
      {!beforeSetUp && (
        <p>
          <a href="/sign-in">To the sign-in page</a>
        </p>
      )}
    </Shell>
  );
}
