/** What a window asks is checked field by field before anything is done: a window is never trusted. */
import { bad, error, good, type Result } from '../../../core/base/issue.js';
import { fields } from './fields.js';
import type { Answerer, Question } from './question.js';
import { type Answer, type Ask, type Asked, type Channel, isChannel, QUESTIONS } from './questions.js';

const table: { readonly [C in Channel]: Question<Ask<C>, Answer<C>, Answerer> } = QUESTIONS;

/** The question as it may be answered. Issue `wrong-ask` when it has another shape. */
function checked<C extends Channel>(channel: C, ask: unknown): Result<Asked<C>> {
  const found = table[channel].shape(fields).safeParse(ask);
  if (!found.success) return bad(error('wrong-ask', [], `The service "${channel}" was asked in a form that it does not know.`));
  return good({ channel, ask: found.data });
}

/** As `checked`; issue `unknown-channel` too. */
export function checkedQuestion(channel: string, ask: unknown): Result<Asked> {
  if (!isChannel(channel)) return bad(error('unknown-channel', [], `There is no service "${channel.slice(0, 40)}".`));
  return checked(channel, ask);
}
