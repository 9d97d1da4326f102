import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

/** What this browser keeps until there is a signal. A script fills the list: only the browser knows it. */
export function WaitingPage({ furniture }: { furniture: Furniture }) {
  return (
    <Shell
      furniture={furniture}
      title="Waiting to be sent"
      purpose="What was written without a signal, kept in this browser until it is sent."
      breadcrumbs={[{ href: '/round', label: 'Round' }]}
    >
      <div id="waiting-list" class="kept-list" data-state="plain">
        <p class="empty-title">Nothing can be kept without JavaScript.</p>
        <p>
          Forms are sent at once then, and a form that could not be sent stays open in the browser: go back to
          it and send it again when there is a signal.
        </p>
      </div>
      <section aria-labelledby="how-title">
        <h2 id="how-title">How it works</h2>
        <ul>
          <li>
            Open the round once with a signal. From then on the round, the cultures on it, the check form and
            the count form open without one.
          </li>
          <li>
            What you write without a signal waits here and is sent by itself, in the order you wrote it, once
            each. It counts for the day on which you wrote it.
          </li>
          <li>It is sent only while you yourself are signed in, never in somebody else's name.</li>
          <li>Keep the browser's data until everything is sent: clearing it clears what waits.</li>
        </ul>
      </section>
    </Shell>
  );
}
