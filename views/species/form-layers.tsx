import { fieldUnitsOf } from '../../shared/settings/typed-units.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { layerFields, mostLayers, mostParts, type TypedLayer } from '../../shared/species/form-layers.ts';
import { Button } from '../layout/button.tsx';
import { Field, FieldSet, type FormState, fieldId } from '../layout/form.tsx';

type LayersProps = { form: FormState; layers: TypedLayer[]; action: string; units: UnitSystem };

/** Sends the whole form; it comes back with the rows changed and nothing saved. With htmx only the rows change. */
function RowButton({ action, change, children }: { action: string; change: string; children: string }) {
  return (
    <Button
      kind="quiet"
      name="rows"
      value={change}
      id={`rows-${change}`}
      formAction={`${action}#layers`}
      hx-post={action}
      hx-target="#layers"
      hx-select="#layers"
      hx-swap="outerHTML"
    >
      {children}
    </Button>
  );
}

type TextProps = {
  form: FormState;
  name: string;
  label: string;
  value: string;
  unit?: string;
  size?: 'short';
};

/** What was typed, not the form's value: rows may have moved to other names. */
function Text({ form, name, label, value, unit, size }: TextProps) {
  return (
    <Field
      label={label}
      name={name}
      id={fieldId(name)}
      value={value}
      unit={unit}
      size={size}
      error={form.errors[name]}
      {...(size && { type: 'number' as const })}
    />
  );
}

function Parts({
  form,
  layer,
  i,
  action,
}: {
  form: FormState;
  layer: TypedLayer;
  i: number;
  action: string;
}) {
  return (
    <>
      {layer.parts.map((part, at) => {
        const j = at + 1;
        return (
          <div class="field-row part-row" key={j}>
            <Text form={form} name={layerFields.material(i, j)} label="Material" value={part.material} />
            <Text form={form} name={layerFields.parts(i, j)} label="Parts" value={part.parts} size="short" />
            <Text
              form={form}
              name={layerFields.settles(i, j)}
              label="Settles to"
              value={part.settles}
              unit="%"
              size="short"
            />
          </div>
        );
      })}
      <input type="hidden" name={layerFields.partRows(i)} value={layer.parts.length} />
      {layer.parts.length < mostParts && (
        <RowButton action={action} change={`add-part-${i}`}>
          Add a material
        </RowButton>
      )}
    </>
  );
}

function Layer(props: LayersProps & { layer: TypedLayer; i: number }) {
  const { form, layer, layers, i, action, units } = props;
  const title = i === 1 ? 'Layer 1, at the floor' : `Layer ${i}`;
  return (
    <fieldset class="layer">
      <legend>{title}</legend>
      <div class="field-row">
        <Text form={form} name={layerFields.name(i)} label="Name" value={layer.name} />
        <Text
          form={form}
          name={layerFields.depth(i)}
          label="Depth"
          value={layer.depth}
          unit={fieldUnitsOf(units).length}
          size="short"
        />
      </div>
      <Parts form={form} layer={layer} i={i} action={action} />
      {i < layers.length && (
        <RowButton action={action} change={`raise-${i}`}>
          Put above the next
        </RowButton>
      )}
      {layers.length > 1 && (
        <RowButton action={action} change={`drop-${i}`}>
          Take this layer out
        </RowButton>
      )}
    </fieldset>
  );
}

/** The layers of the substrate from the floor up. */
export function LayerFields(props: LayersProps) {
  const { layers, action } = props;
  return (
    <div id="layers">
      <FieldSet
        legend="Layers of the substrate"
        help="From the floor up. Parts are measured loose; a material that settles to 80 % loses a fifth of its volume once it lies. Empty rows are left out."
      >
        <input type="hidden" name="layerRows" value={layers.length} />
        {layers.map((layer, at) => (
          <Layer key={at} layer={layer} i={at + 1} {...props} />
        ))}
        {layers.length < mostLayers && (
          <RowButton action={action} change="add-layer">
            Add a layer on top
          </RowButton>
        )}
      </FieldSet>
    </div>
  );
}
