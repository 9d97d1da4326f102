import type { ChoiceCurve } from '../../shared/parcels/choice.ts';
import type { ParcelLimits } from '../../shared/parcels/parcel-form.ts';
import type { Scenario } from '../../shared/parcels/parcel-options-form.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { exactTemp } from '../climate/say.ts';
import { Actions, Button } from '../layout/button.tsx';
import { ChartFrame } from '../layout/chart-frame.tsx';
import { CheckField, checkOf, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import { formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';
import { Notice } from '../layout/notice.tsx';
import { DataTable } from '../layout/table.tsx';
import { Computed } from '../layout/worked-out.tsx';
import { rangeOf, TripCurve } from './part-trip-curve.tsx';

export type ScenarioShown = {
  curve: ChoiceCurve;
  lowestC: number;
  highestC: number;
  hoursBelowSafe: number;
  hoursAboveSafe: number;
};

export type LookedAtProps = {
  furniture: Furniture;
  units: UnitSystem;
  number: number;
  version: string;
  mayDecide: boolean;
  /** What is looked at, in words. */
  words: string;
  fields: Record<string, string>;
  scenarios: readonly ScenarioShown[];
  limits: ParcelLimits;
  why: readonly string[];
  never: string | null;
  isDecided: boolean;
  /** Later than the order's day, with somebody to write to. */
  mayTell: string | null;
  form: FormState;
};

export const scenarioNames: Record<Scenario, string> = {
  forecast: 'As forecast',
  colder: 'Colder than forecast',
  warmer: 'Warmer than forecast',
  late: 'Late',
};

function verdictWords(one: ScenarioShown, limits: ParcelLimits): string {
  if (one.lowestC <= limits.lethalLowC || one.highestC >= limits.lethalHighC) return 'deadly';
  if (one.hoursBelowSafe > 0) return 'too cold';
  if (one.hoursAboveSafe > 0) return 'too warm';
  return 'safe';
}

type CasesProps = {
  scenarios: readonly ScenarioShown[];
  temp: (tempC: number) => string;
  locale: string | undefined;
};

function Cases({ scenarios, temp, locale }: CasesProps) {
  return (
    <DataTable
      caption="Every case"
      hideCaption
      rows={scenarios}
      rowKey={({ curve }) => curve.scenario}
      columns={[
        {
          key: 'what',
          head: 'Case',
          rowHeader: true,
          cell: ({ curve }) => scenarioNames[curve.scenario],
        },
        {
          key: 'low',
          head: 'Lowest inside',
          numeric: true,
          computed: 'parcel',
          cell: ({ lowestC }) => temp(lowestC),
        },
        {
          key: 'high',
          head: 'Highest inside',
          numeric: true,
          computed: 'parcel',
          cell: ({ highestC }) => temp(highestC),
        },
        {
          key: 'cold',
          computed: 'parcel',
          head: 'Too cold for',
          numeric: true,
          cell: ({ hoursBelowSafe }) => `${formatNumber(hoursBelowSafe, locale, 1)} h`,
        },
        {
          key: 'warm',
          computed: 'parcel',
          head: 'Too warm for',
          numeric: true,
          cell: ({ hoursAboveSafe }) => `${formatNumber(hoursAboveSafe, locale, 1)} h`,
        },
      ]}
    />
  );
}

function Charts({ furniture, units, scenarios, limits, words }: LookedAtProps) {
  const { locale } = furniture;
  const temp = (tempC: number) => exactTemp(tempC, units, locale);
  const range = rangeOf(
    scenarios.map(({ curve }) => curve),
    limits,
  );
  const bad = scenarios.filter((one) => verdictWords(one, limits) !== 'safe');
  const finding =
    bad.length === 0
      ? `It stays safe whatever the weather does: ${words}`
      : `Not safe ${bad.map(({ curve }) => scenarioNames[curve.scenario].toLowerCase()).join(', ')}: ${words}`;
  return (
    <ChartFrame
      finding={finding}
      computed="parcel"
      caption="Line: inside the box; dashed: outside; grey band: what every animal in it bears safely. Hours from closing the box."
      table={<Cases scenarios={scenarios} temp={temp} locale={locale} />}
    >
      <div class="trip-panels">
        {scenarios.map((one) => {
          const name = scenarioNames[one.curve.scenario];
          const verdict = verdictWords(one, limits);
          const said = `${name}: ${verdict}, ${temp(one.lowestC)} to ${temp(one.highestC)}`;
          return (
            <div key={one.curve.scenario} class="trip-panel">
              <p class="trip-panel-words">
                <strong>{name}</strong>:{' '}
                {verdict !== 'safe' && <Mark kind={verdict === 'deadly' ? 'harm' : 'needs-you'} />} {verdict},{' '}
                <Computed of="parcel">
                  {temp(one.lowestC)} to {temp(one.highestC)}
                </Computed>
              </p>
              <TripCurve curve={one.curve} limits={limits} units={units} finding={said} range={range} />
            </div>
          );
        })}
      </div>
    </ChartFrame>
  );
}

function DecideForm(props: LookedAtProps) {
  const { furniture, number, version, fields, why, form, mayTell } = props;
  const isRefused = why.length > 0;
  return (
    <Form furniture={furniture} action={`/parcels/orders/${number}/choose`} id="decide">
      <input type="hidden" name="version" value={version} />
      {Object.entries(fields).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      {isRefused && (
        <Field
          label="Why it is sent all the same"
          maxLength={500}
          help="It is kept with your name and prints on the packing sheet."
          {...fieldOf(form, 'reason')}
          required
        />
      )}
      {mayTell && (
        <CheckField
          label={`Write to ${mayTell} that it waits for the weather until that day`}
          {...checkOf(form, 'tell')}
        />
      )}
      <Actions>
        <Button kind={isRefused ? 'harm' : 'main'}>
          {isRefused ? 'Send it so all the same' : 'Send it so'}
        </Button>
      </Actions>
    </Form>
  );
}

/** One option looked at closely: every case as a picture, and the form that decides. */
export function LookedAt(props: LookedAtProps) {
  const { why, never, mayDecide, isDecided, form } = props;
  return (
    <section class="parcel-part" id="look">
      <h2>{isDecided ? 'What is decided, by the forecast of now' : 'A closer look'}</h2>
      {form.errors[''] && <Notice tone="harm">{form.errors['']}</Notice>}
      {why.length > 0 && (
        <Notice tone="harm" word="Refused">
          {why.join('; ')}.
        </Notice>
      )}
      {never && (
        <Notice tone="harm" word="Not to be set aside">
          {never}: it would make the animals’ trip worse. Choose another pack, or none.
        </Notice>
      )}
      <Charts {...props} />
      {mayDecide && !isDecided && never === null && <DecideForm {...props} />}
    </section>
  );
}
