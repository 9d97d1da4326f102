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
  children: ComponentChildren;
};

/** Filters of a list: a GET form, so that the address can be kept and sent on. */
export function FilterBar(props: FilterBarProps) {
  const { action, label = 'Filter the list', submit = 'Show', clearHref, keep = {}, id, children } = props;
  return (
    <form class="filter-bar" method="get" action={action} id={id} aria-label={label} {...htmxOf(props)}>
      {Object.entries(keep).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      {children}
      <div class="filter-bar-end">
        <Button>{submit}</Button>
        {clearHref && <a href={clearHref}>Show all</a>}
      </div>
    </form>
  );
}
