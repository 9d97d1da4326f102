import { LinkButton } from '../layout/button.tsx';
import { Field } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';

type SensorPageProps = {
  furniture: Furniture;
  place: { id: number; fullName: string };
  name: string;
  /** Null when it was shown before and cannot be shown again. */
  token: string | null;
  address: string;
};

/** A sensor's token, to be copied now. */
export function SensorPage({ furniture, place, name, token, address }: SensorPageProps) {
  const here = `/climate/${place.id}`;
  return (
    <Shell
      furniture={furniture}
      title={`The sensor ${name}`}
      breadcrumbs={[
        { href: '/climate', label: 'Climate' },
        { href: here, label: place.fullName },
      ]}
      purpose="Put these two into the sensor; it sends JSON by POST."
    >
      {token ? (
        <>
          <Field label="Address" name="address" id="sensor-address" value={address} readOnly size="long" />
          <Field
            label="Token"
            name="token"
            id="sensor-token"
            value={token}
            readOnly
            size="long"
            help="Sent with each reading, in the header Authorization: Bearer, then a space and the token."
          />
          <Notice tone="needs-you">
            Copy the token now: this page shows it only once, and it is not kept.
          </Notice>
          <p>
            What it may send: <code>{'{"tempC": 21.5, "humidityPct": 62}'}</code>. All of it is described in{' '}
            <a href="/api/climate/openapi.json">the OpenAPI description</a>.
          </p>
        </>
      ) : (
        <Notice tone="needs-you">
          This token was shown once and is not kept. Stop the sensor and set it up again for a new one.
        </Notice>
      )}
      <LinkButton href={here}>Back to {place.fullName}</LinkButton>
    </Shell>
  );
}
