import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { ofBreeding } from './of-breeding.ts';
import { ofKeeping } from './of-keeping.ts';
import { ofSelling } from './of-selling.ts';
import { ofStock } from './of-stock.ts';
import { type WorkingName, workingHref, workings } from './registry.ts';

const parts = [
  ['Stock', ofStock],
  ['Breeding', ofBreeding],
  ['Keeping', ofKeeping],
  ['Selling and sending', ofSelling],
] as const;

/** Every calculation, by what it is for. */
export function WorkingsPage({ furniture }: { furniture: Furniture }) {
  return (
    <Shell
      furniture={furniture}
      title="How numbers are worked out"
      purpose="What goes into each number, how it becomes the answer, what would change it, and the source."
    >
      {parts.map(([head, part]) => (
        <section key={head} aria-label={head}>
          <h2>{head}</h2>
          <ul class="spaced">
            {(Object.keys(part) as WorkingName[]).map((name) => (
              <li key={name}>
                <a href={workingHref(name)}>{workings[name].title}</a>: {workings[name].answers}
              </li>
            ))}
          </ul>
        </section>
      ))}
    </Shell>
  );
}
