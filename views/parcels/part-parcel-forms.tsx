import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import {
  CheckField,
  checkOf,
  ErrorSummary,
  Field,
  Form,
  type FormState,
  fieldOf,
  SelectField,
} from '../layout/form.tsx';
import { formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';

type HoldProps = {
  furniture: Furniture;
  card: { number: number };
  version: string;
  notBefore: string | null;
  email: string;
  mayTell: boolean;
  holdForm: FormState;
  today: string;
};

/** Lets a parcel wait for better weather until a day, and tells the customer so. */
export function HoldForm({
  furniture,
  card,
  version,
  notBefore,
  email,
  mayTell,
  holdForm,
  today,
}: HoldProps) {
  const action = `/parcels/orders/${card.number}`;
  return (
    <section class="parcel-part" id="hold">
      <h2>Let it wait</h2>
      {notBefore && notBefore > today && (
        <p>
          It waits for the weather until {formatDay(notBefore, furniture.locale, 'weekday')}.{' '}
          <PostButton
            furniture={furniture}
            action={`${action}/let-go`}
            label="It need not wait"
            kind="quiet"
          />
        </p>
      )}
      <Form furniture={furniture} action={`${action}/hold`}>
        <ErrorSummary errors={holdForm.errors} formId={holdForm.id} labels={{ until: 'Until' }} />
        <input type="hidden" name="version" value={version} />
        <Field
          label="Until"
          type="date"
          size="short"
          min={today}
          help="What is decided for it is taken back; the day becomes the order’s."
          {...fieldOf(holdForm, 'until')}
          required
        />
        {mayTell && (
          <CheckField
            label={`Write to ${email} that the parcel waits for the weather, with the new day`}
            {...checkOf(holdForm, 'tell')}
          />
        )}
        <Actions>
          <Button>Let it wait</Button>
        </Actions>
      </Form>
    </section>
  );
}

type WayProps = {
  furniture: Furniture;
  card: { number: number };
  wayForm: FormState;
  carriers: readonly { id: number; name: string }[];
  weatherPlaces: readonly { id: number; name: string }[];
  areaWords: string;
};

const options = (list: readonly { id: number; name: string }[]) =>
  list.map(({ id, name }) => ({ value: String(id), label: name }));

/** By whom it goes, and whose weather counts where it arrives. */
export function WayForm({ furniture, card, wayForm, carriers, weatherPlaces, areaWords }: WayProps) {
  return (
    <section class="parcel-part" id="way">
      <h2>By whom, and whose weather</h2>
      <Form furniture={furniture} action={`/parcels/orders/${card.number}/way`}>
        <SelectField
          label="Weather where it arrives"
          options={options(weatherPlaces)}
          empty="by its postcode"
          {...fieldOf(wayForm, 'place')}
        />
        {areaWords !== '' && (
          <CheckField label={`From now on also for ${areaWords}`} {...checkOf(wayForm, 'also')} />
        )}
        <SelectField
          label="Carrier"
          options={options(carriers)}
          empty="the usual one"
          {...fieldOf(wayForm, 'carrier')}
        />
        <Actions>
          <Button>Save</Button>
          <LinkButton href="/parcels/weather/new">New place of the weather</LinkButton>
        </Actions>
      </Form>
    </section>
  );
}
