import type { ElementHandle, Locator, Page } from 'playwright-core';

const mostTabs = 400;

/** What is wrong with where the focus stands: nothing drawn round it, or something over it (WCAG 2.2, 2.4.7, 2.4.11). */
const focusFault = `(() => {
  const at = document.activeElement;
  if (!at || at === document.body) return 'nothing has the focus';
  const name = at.outerHTML.slice(0, 120);
  const drawn = [at, at.nextElementSibling, at.parentElement, at.closest('label')].some((one) => {
    if (!one) return false;
    const { outlineStyle, outlineWidth } = getComputedStyle(one);
    return outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2;
  });
  if (!drawn) return 'no mark of the focus: ' + name;
  const { left, top, width, height } = at.getBoundingClientRect();
  if (width < 3 || height < 3) return '';
  const seen = document.elementFromPoint(left + Math.min(width, innerWidth) / 2, top + Math.min(height / 2, 20));
  const label = seen?.closest('label');
  const same = seen && (at.contains(seen) || seen.contains(at) || label?.contains(at) || label?.htmlFor === at.id);
  return same ? '' : 'the focus is covered: ' + name;
})()`;

const hasFocus = (wanted: ElementHandle) =>
  wanted.evaluate((one) => one === one.ownerDocument?.activeElement);

/** Goes with Tab to what is wanted, as somebody does who has no pointer, and looks at how the focus is shown there. */
export async function tabTo(page: Page, wanted: Locator): Promise<void> {
  await wanted.waitFor({ state: 'attached' });
  const target = await wanted.elementHandle();
  for (let tabs = 0; target && tabs < mostTabs; tabs += 1) {
    if (await hasFocus(target)) {
      const fault = (await page.evaluate(focusFault)) as string;
      if (fault) throw new Error(fault);
      return;
    }
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab does not lead to ${wanted}`);
}

/** A group of radio buttons has one stop; the arrows lead from one to the next. */
export async function arrowTo(page: Page, wanted: Locator): Promise<void> {
  const name = await wanted.getAttribute('name');
  const group = page.locator(`main input[type="radio"][name="${name}"]`);
  const chosen = page.locator(`main input[type="radio"][name="${name}"]:checked`);
  await tabTo(page, (await chosen.count()) > 0 ? chosen : group.first());
  if ((await chosen.count()) === 0) await page.keyboard.press('Space');
  for (let left = await group.count(); left > 0 && !(await wanted.isChecked()); left -= 1)
    await page.keyboard.press('ArrowDown');
  if (!(await wanted.isChecked())) throw new Error('the arrows do not lead to the choice');
}
