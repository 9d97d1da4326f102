import { describe, expect, it } from 'vitest';
import { testApp } from '../support/test-app.ts';
import { csv, cultures, diary, upload } from './bringing.ts';

describe('what somebody reads first', () => {
  it('of two files: the words to be answered, each file with its number, and where', async () => {
    const t = await testApp();
    const { path } = await upload(t.owner, [
      ['cultures.csv', csv(cultures)],
      ['diary.csv', csv([diary[0]!, '2025-02-01,A-1,xyz,4,,'])],
    ]);
    const { text } = await t.owner.get(path);
    expect(text).toContain('<a href="#words-2">');
    expect(text).toContain('diary.csv: say what 1 word means.');
    expect(text.indexOf('say what 1 word')).toBeLessThan(text.indexOf('cannot come in as it is'));
    expect(text).toContain('id="words-2"');
  });

  it('of the examples: boxes in litres or quarts, as the business has it', async () => {
    const t = await testApp();
    expect((await t.owner.get('/records')).text).toContain('6 l box');
    t.sqlite.exec("UPDATE business SET units = 'us'");
    expect((await t.owner.get('/records')).text).toContain('6 qt tub');
  });
});
