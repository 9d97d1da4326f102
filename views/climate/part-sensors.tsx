import { Actions, Button, PostButton } from '../layout/button.tsx';
import { Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { FormFurniture } from '../layout/furniture.ts';

type SensorsProps = {
  furniture: FormFurniture;
  placeId: number;
  sensors: { id: number; name: string; retiredAt: number | null }[];
  form: FormState;
};

/** The sensors that send readings of a place, for the owner. */
export function SensorsPart({ furniture, placeId, sensors, form }: SensorsProps) {
  return (
    <details class="more" open={form.errors.name !== undefined}>
      <summary>Sensors</summary>
      {sensors.length === 0 && <p class="quiet">No sensor sends readings of this place.</p>}
      <ul class="plain-list">
        {sensors.map((sensor) => (
          <li key={sensor.id}>
            {sensor.name}{' '}
            {sensor.retiredAt === null ? (
              <PostButton
                furniture={furniture}
                action={`/climate/sensors/${sensor.id}/stop`}
                label="Stop"
                ariaLabel={`Stop ${sensor.name}`}
                kind="quiet"
                keyPart={String(sensor.id)}
              />
            ) : (
              <small class="quiet">stopped</small>
            )}
          </li>
        ))}
      </ul>
      <Form furniture={furniture} action={`/climate/${placeId}/sensors`} keyPart="sensor">
        <Field label="Name of the sensor" {...fieldOf(form, 'name')} maxLength={80} required />
        <Actions>
          <Button>Set up a sensor</Button>
        </Actions>
      </Form>
      <p>
        It gets a token of its own. What it may send:{' '}
        <a href="/api/climate/openapi.json">OpenAPI description</a>.
      </p>
    </details>
  );
}
