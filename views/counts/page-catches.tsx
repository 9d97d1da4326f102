import { mostCatches } from '../../shared/counts/page-form.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { AboutCulture, CultureHeading } from '../cultures/part-about.tsx';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { ErrorSummary, Form, type FormState } from '../layout/form.tsx';
import { formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { TallyField } from './part-tally-field.tsx';

export type CatchesPageProps = {
  furniture: Furniture;
  code: string;
  scientificName: string;
  cautions: string;
  /** The catches made so far, in their order. */
  done: number[];
  form: FormState;
};

const steps = [
  'Choose a time and a way (so many minutes, this bait, this piece of bark) and keep to it. Put what you catch into a tub with moist substrate.',
  'The same time and the same way again. What you caught before stays out, in its own tub: nothing goes back until you are done.',
  'Once more the same. The catches should get smaller; the more they do, the surer the number.',
];

function Done({ done, locale }: { done: number[]; locale?: string }) {
  if (done.length === 0) return null;
  return (
    <>
      <ol class="catches-done">
        {done.map((caught, index) => (
          // Two catches may be of one size, so their places are what tells them apart.
          <li key={`${index} ${caught}`}>
            Catch {index + 1}: <strong>{formatNumber(caught, locale)}</strong>
          </li>
        ))}
      </ol>
      <Notice tone="needs-you">
        {`${formatNumber(
          done.reduce((sum, caught) => sum + caught, 0),
          locale,
        )} animals are out of the enclosure. Keep them moist and covered; they go back when you are done.`}
      </Notice>
    </>
  );
}

/** A removal count, one catch to a page; the address carries the earlier ones, so that a reload loses nothing. */
export function CatchesPage({ furniture, code, done, form, ...props }: CatchesPageProps) {
  const at = cultureHref(code);
  const number = done.length + 1;
  return (
    <Shell
      furniture={furniture}
      title={`Catch ${number} of ${code}`}
      heading={<CultureHeading code={code}>Catch {number} of</CultureHeading>}
      purpose={
        <AboutCulture scientificName={props.scientificName}>
          several catches in a row, from which the number is worked out.
        </AboutCulture>
      }
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        { href: at, label: code },
        { href: `${at}/count?method=removal`, label: 'Count' },
      ]}
    >
      {props.cautions && done.length === 0 && <Notice tone="needs-you">{props.cautions}</Notice>}
      <p>{steps[Math.min(done.length, steps.length - 1)]}</p>
      <Done done={done} locale={furniture.locale} />
      <Form furniture={furniture} action={`${at}/catches`} keyPart={String(number)}>
        <ErrorSummary errors={form.errors} labels={{ caught: `Catch ${number}` }} />
        <input type="hidden" name="done" value={done.join(',')} />
        <div class="tallies" data-tally-kept={`catch ${code} ${done.join(',')}`}>
          <TallyField form={form} name="caught" label={`Catch ${number}`} what="animal" />
        </div>
        <Actions>
          {number < mostCatches && (
            <Button kind={number < 3 ? 'main' : 'plain'} name="go" value="on">
              {number === 1 ? 'Go on to catch 2' : `One more: catch ${number + 1}`}
            </Button>
          )}
          {number > 1 && (
            <Button kind={number < 3 ? 'plain' : 'main'} name="go" value="done">
              Done: all are going back
            </Button>
          )}
          <LinkButton href={`${at}/count?method=removal`}>Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
