import type { Finding } from '../../core/base/finding.ts'
import { validatedPitch } from '../../core/effects/parameters.ts'
import type { Probe } from '../../core/job/probe.ts'
import { lostLimit } from '../../core/optics/beyond.ts'
import type { Stack } from '../../core/optics/matter.ts'
import { maxOrder } from '../../core/optics/tables.ts'
import { decimals } from './table.ts'

/** The model has no rigorous check below a pitch; whoever reads a number there must know. */
export function notValidated(stack: Stack): readonly Finding[] {
  return stack.gratings
    .filter(grating => grating.pitch < validatedPitch)
    .map(grating => ({
      severity: 'note',
      code: 'pitch-not-validated',
      where: `grating of ${decimals(grating.pitch, 0)} nm`,
      message: `efficiencies below ${validatedPitch} nm were not checked against a rigorous solver`,
      fix: 'Take them as an estimate.',
    }))
}

/** Pictures have no orders beyond ±maxOrder: whoever compares them with these numbers must know. */
export function leftOut(stack: Stack, found: Probe): readonly Finding[] {
  return found.leftOut.flatMap((part, i) =>
    part > lostLimit
      ? [
          {
            severity: 'note' as const,
            code: 'orders-left-out',
            where: `grating of ${decimals(stack.gratings[i]!.pitch, 0)} nm`,
            message: `${decimals(100 * part, 1)} % of its light goes into orders beyond ±${maxOrder}, which pictures leave out`,
            fix: 'These numbers hold all orders.',
          },
        ]
      : [],
  )
}
