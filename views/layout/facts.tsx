import type { ComponentChildren } from 'preact';
import type { WorkingName } from '../workings/registry.ts';
import { classes } from './classes.ts';

export type Fact = {
  term: string;
  value: ComponentChildren;
  note?: ComponentChildren;
  computed?: WorkingName;
};

/** Facts about one thing: a term and its value on each line. Facts without a value are left out. */
export function Facts(props: { items: readonly (Fact | null | false)[]; columns?: 1 | 2; class?: string }) {
  const items = props.items.filter((item): item is Fact => !!item && item.value != null && item.value !== '');
  return (
    <dl class={classes('facts', props.columns === 2 && 'facts-2', props.class)}>
      {items.map((item) => (
        <div key={item.term} class="fact">
          <dt>{item.term}</dt>
          <dd data-computed={item.computed}>
            {item.value}
            {item.note && <span class="fact-note">{item.note}</span>}
          </dd>
        </div>
      ))}
    </dl>
  );
}
