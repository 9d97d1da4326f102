import type { ComponentChildren } from 'preact';
import { Button } from './button.tsx';
import { type HtmxAttributes, htmxOf } from './htmx.ts';

export type FilterBarProps = HtmxAttributes & {
  action: string;
  label?: string;
  submit?: string;
  /** Where to go to see everything again; shown when something is filtered. */
  clearHref?: string;
  /** Kept as they are (the sort order, say). */
  keep?: Record<string, string | number>;
  id?: string;
  /**
   * Narrow screens fold a bar of several filters into one line that names those that are set, so that the list
   * begins on the first screen. Without this the bar is never folded.
   */
  chosen?: readonly (string | null | undefined | false)[];
  children: ComponentChildren;
};

/**
 * The words of the choice that is set, for the folded bar; null for the first one, which leaves the list whole.
 *
 * @example chosenOf([{ value: '', label: 'All' }, { value: 'spare', label: 'Spare now' }], 'spare') // 'Spare now'
 */
export function chosenOf(
  options: readonly { value: string; label: ComponentChildren }[],
  value: string | number | undefined,
): string | null {
  const at = options.findIndex((option) => option.value === String(value ?? ''));
  const label = options[at]?.label;
  return at > 0 && typeof label === 'string' ? label : null;
}

/** A disclosure with nothing in it: the style hides the fields behind it while it is closed, on narrow screens only. */
function Fold({ chosen, clearHref }: { chosen: string[]; clearHref?: string }) {
  return (
    <div class="filter-fold">
      <details>
        <summary>{chosen.length > 0 ? `Filters: ${chosen.join(', ')}` : 'Filters'}</summary>
      </details>
      {chosen.length > 0 && clearHref && <a href={clearHref}>Show all</a>}
    </div>
  );
}

/** Filters of a list: a GET form, so that the address can be kept and sent on. */
export function FilterBar(props: FilterBarProps) {
  const {
    action,
    label = 'Filter the list',
    submit = 'Show',
    clearHref,
    keep = {},
    id,
    chosen,
    children,
  } = props;
  return (
    <form class="filter-bar" method="get" action={action} id={id} aria-label={label} {...htmxOf(props)}>
      {Object.entries(keep).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      {chosen && <Fold chosen={chosen.flatMap((words) => (words ? [words] : []))} clearHref={clearHref} />}
      <div class="filter-fields">
        {children}
        <div class="filter-bar-end">
          <Button>{submit}</Button>
          {clearHref && <a href={clearHref}>Show all</a>}
        </div>
      </div>
    </form>
  );
}
