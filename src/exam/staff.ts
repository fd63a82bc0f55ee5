import type { Staff } from './exam.js';

/** Whether two names of staff mean one person: the same identifier of the same system, whatever the role. */
export function isSamePerson({ identifier: one }: Staff, { identifier: other }: Staff): boolean {
  return one.system === other.system && one.value === other.value;
}
