import { describe, expect, it } from 'vitest';
import { renderPart } from '../../views/layout/render.ts';
import { WorkedOut } from '../../views/layout/worked-out.tsx';
import { workings } from '../../views/workings/registry.ts';

const count = (html: string, text: string) => html.split(text).length - 1;

describe('how a number is worked out', () => {
  it('shows one explanation in full, and of several the others as a line each', () => {
    const html = renderPart(<WorkedOut of={['allocation', 'surplus', 'population']} so={['1 + 1 = 2.']} />);
    const [own = '', ...folded] = html.split('<details class="worked-out"><summary>');
    expect(folded).toHaveLength(2);
    expect(own).toContain('data-explains="allocation surplus population"');
    expect(own).toContain('1 + 1 = 2.');
    expect(own).toContain(workings.allocation.answers);
    for (const [i, name] of (['surplus', 'population'] as const).entries()) {
      expect(folded[i]).toMatch(new RegExp(`^${workings[name].title}</summary>`));
      // what goes in, what would change it and the source of each, behind its line
      for (const words of ['Goes in: ', 'What would change it: ', 'Source: '])
        expect(count(folded[i] ?? '', words)).toBe(1);
    }
    const alone = renderPart(<WorkedOut of="total" />);
    expect(count(alone, '<details')).toBe(1);
    expect(alone).toContain('What would change it: ');
  });
});
