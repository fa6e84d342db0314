// @vitest-environment jsdom
import { cleanup, render } from '@testing-library/react';
import { afterEach, expect, test } from 'vitest';
import { type Parts, Rich } from '../../../web/strings/Rich.tsx';

afterEach(cleanup);

const html = (text: string, parts: Parts): string => render(<Rich text={text} parts={parts} />).container.innerHTML;

test('a part of a sentence becomes a link, a place in it becomes an element, the rest stays text', () => {
  const parts: Parts = { link: (inner) => <a href="/fleet">{inner}</a>, id: () => <code>r-7</code> };
  expect(html('Change it on the <link>fleet page</link>. Request <id/>.', parts)).toBe(
    'Change it on the <a href="/fleet">fleet page</a>. Request <code>r-7</code>.',
  );
});

test('parts lie within parts', () => {
  const parts: Parts = { link: (inner) => <a href="/x">{inner}</a>, strong: (inner) => <b>{inner}</b> };
  expect(html('<link>go <strong>now</strong></link>', parts)).toBe('<a href="/x">go <b>now</b></a>');
});

test('what a person named like a tag stays text', () => {
  expect(html('Revoke <b>x</b> & <name/>', { name: () => <i>y</i> })).toBe(
    'Revoke &lt;b&gt;x&lt;/b&gt; &amp; <i>y</i>',
  );
});
