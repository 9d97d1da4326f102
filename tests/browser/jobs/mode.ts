/** What somebody sits before, and how they work it. */
export type Mode = {
  name: string;
  viewport: { width: number; height: number };
  javaScript: boolean;
  keysOnly: boolean;
  /** Device pixels for each of the page: a window at 200 % is half as wide and as high, and drawn at double. */
  zoom: number;
};

const phone = { width: 390, height: 844 };
const desk = { width: 1280, height: 800 };
const usual = { javaScript: true, keysOnly: false, zoom: 1 };

export const modes: readonly Mode[] = [
  { ...usual, name: 'on a phone', viewport: phone },
  { ...usual, name: 'at a desk', viewport: desk },
  { ...usual, name: 'on a phone without JavaScript', viewport: phone, javaScript: false },
  { ...usual, name: 'at a desk without JavaScript', viewport: desk, javaScript: false },
  { ...usual, name: 'with the keyboard alone', viewport: desk, keysOnly: true },
  {
    ...usual,
    name: 'with the keyboard alone, without JavaScript',
    viewport: desk,
    keysOnly: true,
    javaScript: false,
  },
  { ...usual, name: 'at 200 %', viewport: { width: 640, height: 400 }, zoom: 2 },
];
