import type { AppliedLimit } from './limits.ts'

/** A length, an area and a share as a finding says them. */
export const mm = (value: number): string => `${Number(value.toFixed(2))} mm`
export const mm2 = (value: number): string => `${Number(value.toPrecision(3))} mm²`
export const percent = (share: number): string => `${Number((100 * share).toFixed(1))} %`

/** A limit in words: its value, and whose it is. */
export function saidLimit({ value, unit, status, source }: AppliedLimit): string {
  const number = unit === '' ? `${value}` : `${value} ${unit}`
  return status === 'own' ? `${number}, set for this job (${source})` : number
}
