import { describe, expect, it } from 'vitest';
import { isCommonPassword } from '../../server/people/common-passwords.ts';
import { coveredByWalks, isMadeOfCommon, lettersOf, repeatsItself } from '../../shared/people/guessable.ts';
import { passwordFault } from '../../shared/people/password.ts';

const context = {
  names: ['Olive Owner', 'olive.owner@example.org', 'Leafmould Lane', 'broodbench'],
  isCommon: isCommonPassword,
};
const faultOf = (password: string) => passwordFault(password, context);

// NIST SP 800-63B-4, section 3.1.1.2: at least 15 characters where a password is the only factor, at least 64
// allowed, all printable characters and spaces, no composition rules, a blocklist with context words.
describe('a new password', () => {
  it.each([
    ['threebrownsnail', 'exactly 15 letters'],
    ['three brown snails', 'spaces'],
    ['moss under the old oak', 'words, all in lower case'],
    ['correct-clasp-tuba-ferry', 'hyphens'],
    ['MOSS UNDER THE OLD OAK', 'capitals alone'],
    ['ümlaut köder äpfel', 'letters beyond ASCII'],
    ['小さな虫が森に住んでいます今日も', 'another script'],
    ['🐌🌿🪲 brown snails eat', 'emoji count one each'],
    ['Xk29!vTq8#mLp0zR', 'random'],
    ['84!93#2love7710!', 'random with one common word in it'],
    [`${'woodlouse under bark '.repeat(3)}x`, '64 characters'],
    [`once upon a time ${'a b c d e f g h i j k l m n o p q '.repeat(7)}`.slice(0, 256), '256 characters'],
    ['12!84#93xq-wkv7', 'few letters that are no word'],
    ['<script>alert(1)</script>', 'markup is only text'],
    ["'; drop table people; --", 'and so is SQL'],
  ])('%s will do: %s', (password) => {
    expect(faultOf(password)).toBeNull();
  });

  it.each([
    [`${'a b c '.repeat(167)}`, /at most 256/],
    ['fourteen chars', /at least 15 characters \(this has 14\)/],
    ['🐌🐌🐌🐌🐌🐌🐌🐌', /this has 8/],
    [`once upon a time ${'abc def ghi jkl mno pqr '.repeat(12)}`, /at most 256/],
    ['aaaaaaaaaaaaaaaa', /repeats one piece/],
    ['abababababababab', /repeats one piece/],
    ['snail42snail42snail42', /repeats one piece/],
    ['1111222233331111', /repeats one piece/],
    ['abcdefghijklmnop', /runs along/],
    ['0123456789abcdefg', /runs along/],
    ['qwertyuiopasdfgh', /runs along/],
    ['ponmlkjihgfedcba', /runs along/],
    ['qwertzuiopyxcvbn', /runs along/],
    ['1qaz2wsx3edc4rfv', /tried first/],
    ['qwertyuiop12345', /tried first/],
    ['passwordpassword', /tried first/],
    ['PASSWORDPASSWORD', /tried first/],
    ['P@ssw0rd2026!!!!', /common words/],
    ['password8301946!', /common words/],
    ['iloveyouiloveyou1', /common words/],
    ['monkeydragon2024!', /common words/],
    ['password1password2', /common words/],
    ['football-12345-x!', /common words|runs along/],
    ['olive.owner@example.org', /a name that others know/],
    ['oliveowner2026!!', /a name that others know/],
    ['Olive Owner 1234', /a name that others know/],
    ['leafmouldlane2026', /a name that others know/],
    ['BroodBench-12345', /a name that others know/],
    ['ｐａｓｓｗｏｒｄｐａｓｓｗｏｒｄ', /tried first/],
  ])('%s will not do', (password, reason) => {
    expect(faultOf(password)).toMatch(reason);
  });

  it('is held against a list of more than 10,000', () => {
    for (const common of ['password', '123456789', 'trustno1', 'letmein', 'dragon'])
      expect(isCommonPassword(common)).toBe(true);
    expect(isCommonPassword('three brown snails')).toBe(false);
  });
});

describe('what makes a text guessable', () => {
  it('as the documented examples say', () => {
    expect(repeatsItself('abcabcab')).toBe(true);
    expect(repeatsItself('three brown snails')).toBe(false);
    expect(coveredByWalks('qwerty-12345-x')).toBe(11);
    expect(coveredByWalks('snail')).toBe(0);
    expect(lettersOf('sun-shine 99')).toBe('sunshine');
    expect(isMadeOfCommon('passwordqwerty', 16, (text) => ['password', 'qwerty'].includes(text))).toBe(true);
    expect(isMadeOfCommon('passwordsnails', 16, (text) => ['password', 'qwerty'].includes(text))).toBe(false);
  });
});
