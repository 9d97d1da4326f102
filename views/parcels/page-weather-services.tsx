import { Actions, Button } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { CheckField, checkOf, ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import { formatMoment } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';

type Service = {
  key: string;
  source: string;
  where: string;
  isOn: boolean;
  pausedUntil: number | null;
  form: FormState;
};

export type WeatherServicesPageProps = { furniture: Furniture; timeZone: string; services: Service[] };

const labels = { address: 'Address', contact: 'Contact', isOn: 'Ask this service about my places' };

function OneService({
  furniture,
  timeZone,
  service,
}: Omit<WeatherServicesPageProps, 'services'> & { service: Service }) {
  const { key, source, where, isOn, pausedUntil, form } = service;
  return (
    <section class="slip" aria-labelledby={`service-${key}`}>
      <h2 id={`service-${key}`}>
        {source}: {isOn ? 'on' : 'off'}
      </h2>
      <p>For {where}.</p>
      {pausedUntil !== null && (
        <Notice tone="needs-you">
          It is left alone until {formatMoment(pausedUntil, timeZone, furniture.locale)}: it asked for that,
          or refused to answer.
        </Notice>
      )}
      <Form furniture={furniture} action={`/parcels/weather/services/${key}`} keyPart={key}>
        <FilledFrom form={form} words={labels} />
        <ErrorSummary errors={form.errors} formId={key} labels={labels} />
        <Field
          label={labels.address}
          type="url"
          size="long"
          {...fieldOf({ ...form, id: key }, 'address')}
          required
        />
        <Field
          label={labels.contact}
          maxLength={200}
          help="Their terms ask who you are: an e-mail address or a web page. It is sent with every question."
          {...fieldOf({ ...form, id: key }, 'contact')}
        />
        <CheckField label={labels.isOn} {...checkOf({ ...form, id: key }, 'isOn')} />
        <Actions>
          <Button kind="main">Save</Button>
        </Actions>
      </Form>
    </section>
  );
}

/** Public forecast services: each off until the owner turns it on. */
export function WeatherServicesPage({ furniture, timeZone, services }: WeatherServicesPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="Forecast services"
      purpose="Public services that may be asked for the lows and highs of your places. None is asked until you turn it on."
      breadcrumbs={[{ href: '/parcels/weather', label: 'Weather on the way' }]}
    >
      <p>
        What is sent: the coordinates of your places and your contact, nothing of customers. An answer is kept
        until it runs out, at least an hour; read each service’s terms before you turn it on.
      </p>
      {services.map((service) => (
        <OneService key={service.key} furniture={furniture} timeZone={timeZone} service={service} />
      ))}
    </Shell>
  );
}
