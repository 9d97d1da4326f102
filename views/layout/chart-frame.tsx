import type { ComponentChildren } from 'preact';

export type ChartFrameProps = {
  /** The title: what the chart shows to be true. */
  finding: string;
  /** How to read it, in a line. */
  caption?: ComponentChildren;
  /** The same figures as a table, for those who cannot see the chart. */
  table: ComponentChildren;
  tableLabel?: string;
  id?: string;
  /** The SVG. */
  children: ComponentChildren;
};

export function ChartFrame(props: ChartFrameProps) {
  const { finding, caption, table, tableLabel = 'The figures as a table', id, children } = props;
  return (
    <figure class="chart" id={id}>
      <figcaption class="chart-words">
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
