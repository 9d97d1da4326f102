import { describe, expect, it } from 'vitest';
import { PostButton } from '../../views/layout/button.tsx';
import {
  CheckField,
  ChoiceField,
  checkOf,
  ErrorSummary,
  Field,
  Form,
  type FormState,
  fieldId,
  fieldOf,
  manyOf,
  SelectField,
  TextAreaField,
} from '../../views/layout/form.tsx';
import { renderPart } from '../../views/layout/render.ts';
import { furniture } from './furniture.ts';

const form: FormState = {
  values: {
    adults: '12 or so',
    surface: 'moist',
    seen: ['young', 'mites'],
    note: '\r\nsecond line',
    gone: 'yes',
  },
  errors: {
    adults: 'Write a whole number, such as 12.',
    surface: 'Choose one.',
    gone: 'Tick it first.',
    '': 'Busy.',
  },
};

/** The attributes of the first element that has the id. */
function attributesOf(html: string, id: string): string {
  const found = new RegExp(`<[a-z]+ [^>]*\\bid="${id}"[^>]*>`).exec(html);
  if (!found) throw new Error(`no element ${id} in ${html}`);
  return found[0];
}

describe('a field with an error', () => {
  it('keeps what was typed and ties label, error, help and unit to it', () => {
    const html = renderPart(
      <Field
        label="Adults"
        {...fieldOf(form, 'adults')}
        type="number"
        help="On the surface."
        unit="animals"
      />,
    );
    const input = attributesOf(html, 'field-adults');
    expect(html).toContain('<label for="field-adults">Adults</label>');
    expect(input).toContain('value="12 or so"');
    expect(input).toContain('aria-invalid="true"');
    expect(input).toContain('aria-describedby="field-adults-error field-adults-help field-adults-unit"');
    expect(attributesOf(html, 'field-adults-error')).toContain('field-error');
    expect(html).toContain('Write a whole number, such as 12.');
  });

  it('is reached from the summary, and the summary asks for the focus', () => {
    const html = renderPart(<ErrorSummary errors={form.errors} labels={{ adults: 'Adults' }} />);
    expect(html).toContain('<a href="#field-adults">Adults: Write a whole number, such as 12.</a>');
    expect(html).toContain('<li>Busy.</li>');
    expect(html).toContain('tabindex="-1"');
    expect(html).toContain('data-focus="now"');
    expect(renderPart(<ErrorSummary errors={{}} />)).toBe('');
  });

  it('has the id the summary links to, whatever kind it is', () => {
    const html = renderPart(
      <ChoiceField
        label="Surface"
        {...fieldOf(form, 'surface')}
        options={[{ value: 'moist', label: 'moist' }]}
      />,
      <CheckField label="Gone" {...checkOf(form, 'gone')} />,
    );
    expect(attributesOf(html, 'field-surface')).toContain('type="radio"');
    expect(html).toMatch(/<fieldset [^>]*aria-describedby="field-surface-error"/);
    expect(attributesOf(html, 'field-gone')).toContain('checked');
    expect(attributesOf(html, 'field-gone')).toContain('aria-describedby="field-gone-error"');
  });
});

describe('values', () => {
  it('choose options and chips, one or several', () => {
    const options = [
      { value: 'young', label: 'young' },
      { value: 'mould', label: 'mould' },
      { value: 'mites', label: 'mites' },
    ];
    const chips = renderPart(
      <ChoiceField label="Seen" multiple {...manyOf(form, 'seen')} options={options} />,
    );
    expect(chips.match(/checked/g)).toHaveLength(2);
    const select = renderPart(
      <SelectField label="Seen" name="s" value="mould" options={options} empty="Choose" />,
    );
    expect(select).toContain('<option value="mould" selected>mould</option>');
    expect(select).toContain('<option value>Choose</option>');
    const grouped = renderPart(
      <SelectField label="S" name="s" value="mites" options={[{ group: 'All', options }]} />,
    );
    expect(grouped).toContain('<optgroup label="All">');
    expect(grouped).toContain('<option value="mites" selected>');
  });

  it('keep a line break that opens a note, which HTML would drop', () => {
    const html = renderPart(<TextAreaField label="Note" {...fieldOf(form, 'note')} />);
    expect(html).toContain('>\n\r\nsecond line</textarea>');
  });

  it('show zero, and nothing for what is missing', () => {
    expect(renderPart(<Field label="A" name="a" value={0} />)).toContain('value="0"');
    expect(renderPart(<Field label="A" name="a" value={null} />)).not.toContain('value=');
  });

  it('switch their unit inside the field', () => {
    const unit = {
      name: 'depthUnit',
      value: 'in',
      options: [
        { value: 'mm', label: 'mm' },
        { value: 'in', label: 'in' },
      ],
    };
    const html = renderPart(<Field label="Depth" name="depth" unit={unit} />);
    expect(html).toContain('<select class="field-unit" name="depthUnit" aria-label="Unit of Depth">');
    expect(html).toContain('<option value="in" selected>in</option>');
  });
});

describe('ids', () => {
  it('are fit for a link whatever the name, and apart for two forms of one page', () => {
    expect(fieldId('lines[0].species')).toBe('field-lines-0-species');
    expect(fieldOf({ ...form, id: 'row7' }, 'adults').id).toBe('row7-adults');
  });
});

describe('a form', () => {
  it('carries its token and key, and works without a script', () => {
    const html = renderPart(
      <Form furniture={furniture()} action="/checks" hx-post="/checks" hx-target="#row" />,
    );
    expect(html).toMatch(
      /^<form action="\/checks" method="post" class="form" novalidate hx-post="\/checks" hx-target="#row">/,
    );
    expect(html).toContain('<input type="hidden" name="_csrf" value="token-1"/>');
    expect(html).toContain('<input type="hidden" name="formKey" value="key-1"/>');
  });

  it('gives two buttons of one page keys of their own', () => {
    const html = renderPart(
      <PostButton
        furniture={furniture()}
        action="/checks"
        label="All well"
        fields={{ culture: 3 }}
        keyPart="3"
      />,
    );
    expect(html).toContain('name="formKey" value="key-1.3"');
    expect(html).toContain('name="culture" value="3"');
  });

  it('sends the token in the address with a file, and none at all when it only asks', () => {
    const upload = renderPart(
      <Form furniture={furniture()} action="/records?x=1" encType="multipart/form-data" />,
    );
    expect(upload).toContain('action="/records?x=1&amp;_csrf=token-1"');
    const asking = renderPart(<Form furniture={furniture()} action="/x" method="get" />);
    expect(asking).not.toContain('token-1');
    expect(asking).not.toContain('key-1');
  });
});
