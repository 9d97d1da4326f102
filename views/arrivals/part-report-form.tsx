import {
  deadField,
  longestNote,
  missingField,
  noteField,
  type ReportFault,
} from '../../shared/arrivals/report-form.ts';
import { Actions, Button } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { ErrorSummary, Field, FieldSet, type FormState, TextAreaField } from '../layout/form.tsx';
import type { SayKey, Speaker } from '../words/speaker.ts';

export type PhotoWords = Extract<SayKey, `page.photo${string}`>;

export type ReportPart = {
  /** Whether a report is taken now: not before the parcel has left, and not for ever. */
  open: 'not yet' | 'open' | 'over';
  /** The last day on which it is; null before the parcel has left. */
  until: string | null;
  /** Days on the way and days more, which that day comes of. */
  waits: { onWay: number; more: number } | null;
  askWithinHours: number;
  sent: readonly { speciesId: number; scientificName: string; commonName: string; animals: number }[];
  /** The latest report. */
  said: {
    when: string;
    allWell: boolean;
    losses: readonly { scientificName: string; dead: number; missing: number }[];
    note: string;
    photos: number;
  } | null;
  /** Of a form that came back: what was typed, and what is wrong. */
  values: Record<string, string>;
  faults: ReadonlyMap<string, ReportFault>;
  photoFault: PhotoWords | null;
  isEnough: boolean;
  formKey: string;
};

type Props = ReportPart & { speaker: Speaker; path: string };

function Said({ speaker, said }: Props) {
  if (!said) return null;
  if (said.allWell) return <p class="customer-said">{speaker.say('page.saidWell', { when: said.when })}</p>;
  return (
    <div class="customer-said">
      <p>{speaker.say('page.saidLosses', { when: said.when })}</p>
      <ul>
        {said.losses.map((loss) => (
          <li key={loss.scientificName}>
            <Latin>{loss.scientificName}</Latin>:{' '}
            {[
              loss.dead > 0 && speaker.counted('page.saidDead', loss.dead),
              loss.missing > 0 && speaker.counted('page.saidMissing', loss.missing),
            ]
              .filter(Boolean)
              .join(', ')}
          </li>
        ))}
      </ul>
      {said.note && <p class="keep-breaks">{said.note}</p>}
      {said.photos > 0 && <p>{speaker.counted('page.saidPhotos', said.photos)}.</p>}
      <p>{speaker.say('page.weAnswer')}</p>
    </div>
  );
}

function errorsOf({ speaker, sent, faults, photoFault, isEnough }: Props): FormState['errors'] {
  const errors: FormState['errors'] = {};
  for (const [name, fault] of faults) {
    const [, speciesId] = name.split('-');
    const animals = sent.find((one) => String(one.speciesId) === speciesId)?.animals ?? 0;
    errors[name] =
      fault === 'tooMany'
        ? speaker.say('page.tooMany', { sent: speaker.number(animals) })
        : speaker.say(`page.${fault}`);
  }
  if (photoFault) errors.photo = `${speaker.say(photoFault)} ${speaker.say('page.photosAgain')}`;
  if (isEnough) errors[''] = speaker.say('page.enough');
  return errors;
}

/** The form names its page again at its end, so that an answer with faults shows them at once. */
function AllWell({ speaker, path, formKey }: Props) {
  return (
    <form action={`${path}#report`} method="post" class="customer-well" encType="multipart/form-data">
      <input type="hidden" name="formKey" value={`${formKey}.well`} />
      <Button kind="main" name="all" value="well">
        {speaker.say('page.allWell')}
      </Button>
    </form>
  );
}

type OfSpeciesProps = {
  speaker: Speaker;
  sent: ReportPart['sent'][number];
  field: (name: string) => { name: string; value: string; error: string | undefined };
};

/** How many of one species are dead, and how many missing. */
function OfSpecies({ speaker, sent: one, field }: OfSpeciesProps) {
  return (
    <FieldSet
      legend={
        <>
          {one.commonName && `${one.commonName}, `}
          <Latin>{one.scientificName}</Latin>{' '}
          <span class="field-optional">{speaker.counted('page.ofSent', one.animals)}</span>
        </>
      }
    >
      <div class="customer-numbers">
        <Field
          label={speaker.say('page.dead')}
          inputMode="numeric"
          size="short"
          {...field(deadField(one.speciesId))}
        />
        <Field
          label={speaker.say('page.missing')}
          inputMode="numeric"
          size="short"
          {...field(missingField(one.speciesId))}
        />
      </div>
    </FieldSet>
  );
}

function Losses(props: Props & { errors: FormState['errors'] }) {
  const { speaker, path, formKey, sent, values, errors } = props;
  const field = (name: string) => ({ name, value: values[name] ?? '', error: errors[name] });
  return (
    <form action={`${path}#report`} method="post" encType="multipart/form-data" class="form" noValidate>
      <input type="hidden" name="formKey" value={`${formKey}.losses`} />
      <ErrorSummary errors={errors} title={speaker.say('page.mend')} />
      <p>{speaker.say('page.someNotHelp')}</p>
      {sent.map((one) => (
        <OfSpecies key={one.speciesId} speaker={speaker} sent={one} field={field} />
      ))}
      <TextAreaField
        label={speaker.say('page.note')}
        rows={3}
        maxLength={longestNote}
        {...field(noteField)}
      />
      <div class="field">
        <label htmlFor="field-photo">{speaker.say('page.photos')}</label>
        <input
          id="field-photo"
          name="photo"
          type="file"
          multiple
          accept="image/jpeg,image/png,image/webp,image/avif"
          aria-describedby="field-photo-help"
          aria-invalid={errors.photo ? true : undefined}
        />
        {errors.photo && <p class="field-error">{errors.photo}</p>}
        <p class="field-help" id="field-photo-help">
          {speaker.say('page.photosHelp')}
        </p>
      </div>
      <Actions>
        <Button kind="main">{speaker.say('page.send')}</Button>
      </Actions>
    </form>
  );
}

function Asked(props: Props) {
  const { speaker, said, askWithinHours, until } = props;
  const errors = errorsOf(props);
  const isBack = Object.keys(errors).length > 0;
  const day = until ? speaker.day(until) : '';
  const forms = (
    <>
      {!said?.allWell && <AllWell {...props} />}
      <details class="customer-losses" open={isBack}>
        <summary>{speaker.say('page.someNot')}</summary>
        <Losses {...props} errors={errors} />
      </details>
    </>
  );
  return (
    <>
      <p>{speaker.counted('page.askSoon', askWithinHours, { day })}</p>
      {said && !isBack ? (
        <details>
          <summary>{speaker.say('page.change')}</summary>
          {forms}
        </details>
      ) : (
        forms
      )}
    </>
  );
}

/** "How did they arrive?": what was said, and the forms to say it. */
export function ReportSection(props: Props) {
  const { speaker, open, until, said } = props;
  return (
    <section id="report" class="customer-report">
      <h2>{speaker.say('page.ask')}</h2>
      <Said {...props} />
      {open === 'open' && <Asked {...props} />}
      {open === 'not yet' && <p>{speaker.say('page.notYet')}</p>}
      {open === 'over' && until && !said && <p>{speaker.say('page.over', { day: speaker.day(until) })}</p>}
    </section>
  );
}
