// @vitest-environment jsdom
import { fireEvent, screen } from '@testing-library/react';
import { expect, test } from 'vitest';
import { problem } from '../fixture/answers.ts';
import { cleanStage, stage } from '../fixture/stage.tsx';

cleanStage();

test('a refused signature is said once, with the reason, and the note stays', async () => {
  const { asked, answer } = stage('/');
  answer('/api/v1/round/sign', problem(403, 'Signing needs the role operator.'));
  const note = (await screen.findByLabelText('Note for the handover')) as HTMLInputElement;
  fireEvent.change(note, { target: { value: 'V2 is closed' } });
  fireEvent.click(screen.getByRole('button', { name: /^Sign as/ }));
  // One place says it, and that is read aloud; the region that speaks for the whole page stays silent.
  const said = await screen.findAllByText('Signing needs the role operator.');
  expect(said.map((one) => one.getAttribute('role'))).toEqual(['alert']);
  expect(note.value).toBe('V2 is closed');
  // The areas are signed one by one: after a refusal the others are not tried.
  expect(asked.filter(({ path }) => path === '/api/v1/round/sign')).toHaveLength(1);
  expect(screen.queryByText(/^Signed:/)).toBeNull();
});
