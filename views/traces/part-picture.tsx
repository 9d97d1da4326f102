import { formatCount } from '../layout/format.ts';
import {
  deskSheet,
  type PictureNode,
  type PlannedNode,
  phoneSheet,
  planPicture,
  type Sheet,
} from './picture-plan.ts';
import { contactWords, dayWriter } from './say.ts';

export type PictureProps = {
  start: string;
  /** In the order of the trace. */
  nodes: readonly PictureNode[];
  today: string;
  locale?: string;
};

const size = 14;

function Line({ node: { x, y, from } }: { node: PlannedNode }) {
  if (from === null) return null;
  return <path class="way-line" d={`M${from.x} ${from.y} V${y} H${x}`} />;
}

function Stop({ node, day }: { node: PlannedNode; day: (day: string) => string }) {
  const { name, isOrder, by, x, y } = node;
  return (
    <g>
      {isOrder ? (
        <rect class="way-order" x={x - 5} y={y - 5} width={10} height={10} />
      ) : (
        <circle class={by ? 'way-stop' : 'way-start'} cx={x} cy={y} r={by ? 4.5 : 6} />
      )}
      <text class="way-words" x={x + 11} y={y + size * 0.35} font-size={size}>
        <tspan class="way-name">{isOrder ? `order ${name}` : name}</tspan>
        {by && ` ${isOrder ? '' : `${contactWords[by.kind]}, `}${day(by.date)}`}
      </text>
    </g>
  );
}

function Picture({
  start,
  nodes,
  today,
  locale,
  sheet,
  className,
}: PictureProps & { sheet: Sheet; className: string }) {
  const plan = planPicture(start, nodes, sheet);
  const day = dayWriter(today, locale);
  const bottom = plan.height - sheet.rowHeight / 2;
  return (
    <svg
      class={`ways ${className}`}
      viewBox={`0 0 ${plan.width} ${plan.height}`}
      role="img"
      aria-label={`Ways from ${start}, day by day. The table says the same.`}
    >
      {plan.days.map(({ day: on, x, named }) => (
        <g key={on}>
          <line class="way-day" x1={x} x2={x} y1={plan.top - 4} y2={bottom} />
          {named && (
            <text class="way-date" x={x} y={plan.top - 12} font-size={size}>
              {day(on)}
            </text>
          )}
        </g>
      ))}
      {plan.nodes.map((node) => (
        <Line key={`${node.isOrder} ${node.name}`} node={node} />
      ))}
      {plan.nodes.map((node) => (
        <Stop key={`${node.isOrder} ${node.name}`} node={node} day={day} />
      ))}
    </svg>
  );
}

/** The ways out of a culture, drawn: a dot for each culture, a square for each order, days from left to right. */
export function WaysPicture(props: PictureProps) {
  const { start, nodes } = props;
  const { notDrawn } = planPicture(start, nodes, deskSheet);
  return (
    <figure class="chart ways-figure">
      <figcaption class="chart-words">
        <span class="chart-finding">How it can have gone from {start}</span>
        <span class="chart-caption">
          A dot is a culture, a square an order; days go from left to right, and each way is the earliest.
          {notDrawn > 0 && ` ${formatCount(notDrawn, 'more is', 'more are')} in the tables only.`}
        </span>
      </figcaption>
      <Picture {...props} sheet={deskSheet} className="curve-desk" />
      <Picture {...props} sheet={phoneSheet} className="curve-phone" />
    </figure>
  );
}
