// A process of its own that asks for a page every now and then until its input ends, and prints how long each took, in
// milliseconds (Infinity where it did not come). The first line of its input is the cookie.
import { createInterface } from 'node:readline';
import { Person } from './person.ts';

const [, , base = ''] = process.argv;
const input = createInterface(process.stdin);
let isOver = false;
input.once('close', () => {
  isOver = true;
});
const cookie = await new Promise<string>((resolve) => input.once('line', resolve));
const person = new Person(base, { id: 'whoever asks', role: 'helper', cookie });
// the first opens the connection and is no measure of what others notice
await person.get('a page', '/account');
while (!isOver) {
  await person.get('a page', '/account');
  await new Promise((next) => setTimeout(next, 50));
}
person.leave();
for (const { tookMs, status } of person.answers.slice(1))
  console.log(status === 200 ? tookMs : Number.POSITIVE_INFINITY);
