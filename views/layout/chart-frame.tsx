import type { ComponentChildren } from 'preact';
import type { WorkingName } from '../workings/registry.ts';

export type ChartFrameProps = {
  /** The title: what the chart shows to be true. */
  finding: string;
  /** How to read it, in a line. */
  caption?: ComponentChildren;
  /** The same figures as a table, for those who cannot see the chart. */
  table: ComponentChildren;
  tableLabel?: string;
  id?: string;
  /** What its finding and caption are worked out by; the page must hold a `WorkedOut` of it. */
  computed?: WorkingName;
  /** The SVG. */
  children: ComponentChildren;
};

export function ChartFrame(props: ChartFrameProps) {
  const { finding, caption, table, tableLabel = 'The figures as a table', id, computed, children } = props;
  return (
    <figure class="chart" id={id}>
      <figcaption class="chart-words" data-computed={computed}>
        <span class="chart-finding">{finding}</span>
        {caption && <span class="chart-caption">{caption}</span>}
      </figcaption>
      {children}
      <details class="chart-table">
        <summary>{tableLabel}</summary>
        {table}
      </details>
    </figure>
  );
}
