/** The groups in the boxes of a page, by the box's name, without those that are 0 or empty. */
export function boxesOf(html: string): Record<string, number> {
  const boxes: Record<string, number> = {};
  for (const [input] of html.matchAll(/<input[^>]*name="groups-\d+-\d+"[^>]*>/g)) {
    const name = /name="([^"]+)"/.exec(input)?.[1] ?? '';
    const value = Number(/value="(\d*)"/.exec(input)?.[1] ?? 0);
    if (value > 0) boxes[name] = value;
  }
  return boxes;
}
