import { ChartFrame } from '../layout/chart-frame.tsx';
import { Empty } from '../layout/empty.tsx';
import { defaultLocale } from '../layout/format.ts';
import { Axes, Bands, Changes, Counts, Limits, LimitWords, Today } from './curve-layers.tsx';
import { type CurveData, deskSheet, type Plan, phoneSheet, planCurve, type Sheet } from './curve-plan.ts';
import { CurveTable } from './curve-table.tsx';

export type { CurveCount, CurveData } from './curve-plan.ts';

export type PopulationCurveProps = {
  data: CurveData;
  /** The title: what the curve shows to be true, "About 140, and growing by a tenth a week". */
  finding: string;
  caption?: string;
  locale?: string;
  id?: string;
};

const howToRead =
  'Line: the estimate, dashed where it looks ahead; band: 9 in 10 sure to lie inside. Dot: what was seen, with a ' +
  'hairline for what it implies. Notch on the ground: animals taken out or put in.';

function Drawing(props: { data: CurveData; plan: Plan; name: string; finding: string; locale: string }) {
  const { data, plan, name, finding, locale } = props;
  const { width, height } = plan.sheet;
  return (
    <svg class={`curve curve-${name}`} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={finding}>
      <Axes plan={plan} locale={locale} />
      <Bands plan={plan} data={data} />
      <Limits plan={plan} data={data} />
      <Changes plan={plan} data={data} />
      <Counts plan={plan} data={data} locale={locale} />
      <LimitWords plan={plan} data={data} locale={locale} />
      <Today plan={plan} data={data} locale={locale} />
    </svg>
  );
}

/** A culture's history and the weeks ahead, drawn twice: for the desk (and paper) and for the phone. */
export function PopulationCurve(props: PopulationCurveProps) {
  const { data, finding, caption = howToRead, locale = defaultLocale, id } = props;
  const sheets: [string, Sheet][] = [
    ['desk', deskSheet],
    ['phone', phoneSheet],
  ];
  const drawings = sheets.map(([name, sheet]) => ({ name, plan: planCurve(data, sheet, locale) }));
  if (drawings.some((drawing) => drawing.plan === null)) {
    return <Empty title="Nothing to draw yet: the curve begins with the first count." />;
  }
  return (
    <ChartFrame
      id={id}
      finding={finding}
      caption={caption}
      computed="population"
      table={<CurveTable data={data} locale={locale} />}
    >
      {drawings.map(
        ({ name, plan }) =>
          plan && (
            <Drawing key={name} name={name} data={data} plan={plan} finding={finding} locale={locale} />
          ),
      )}
    </ChartFrame>
  );
}
