import { catalogue } from './catalogue.ts';

/** The doors: signing in, and the first account. */
export const words = catalogue({
  signInTitle: 'Sign in',
  watchedHere: (site: string) => `${site} is watched here. Say who you are.`,
  noAccount: 'No account exists yet.',
  howToSetUp:
    'Open the set-up link that the first start printed: it makes the first account. It works once, for 24 hours; a start without accounts prints a new one.',
  login: 'Login',
  password: 'Password',
  signIn: 'Sign in',
  signingIn: 'Signing in…',
  withToken: 'Sign a display in with a token',
  displayIs:
    'For a display on a wall: it stays signed in until the token is revoked, and may do what the token may. An admin makes a token with the role viewer on the fleet page.',
  token: 'Token',
  signDisplayIn: 'Sign the display in',

  setUpTitle: 'Set-up',
  linkNotWhole: 'The set-up link is not whole: its key is missing.',
  copyWhole: 'Copy the whole line that the first start printed.',
  makeFirst: 'Make the first account. It may do everything, and add the others.',
  setUpAlready: 'This site is set up already.',
  signInOrAsk: '<link>Sign in</link>, or ask an admin for an account.',
  yourName: 'Your name, as others know you',
  loginSigns: 'letters, digits, dot, dash, underscore or @',
  newPassword: (least: number) => `Password (at least ${least} signs)`,
  making: 'Making…',
  makeAccount: 'Make the account',
  example: 'Example data',
});
