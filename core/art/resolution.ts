import type { Finding } from '../base/finding.ts'

/** Pixels an inch of a flat picture, or null with a finding where it gives none that can be used. */
export function resolutionOf(across: number, down: number, findings: Finding[]): number | null {
  if (!(across >= 1 && across <= 100_000)) {
    findings.push({
      severity: 'warning',
      code: 'resolution-missing',
      where: 'resolution',
      message:
        across > 0
          ? `the file gives ${across} pixels an inch, which cannot be: none is taken from it`
          : 'the file gives no resolution',
      fix: 'Set the resolution of the art, or the finished size in the job.',
    })
    return null
  }
  if (Math.abs(across - down) > across * 1e-3)
    findings.push({
      severity: 'warning',
      code: 'resolution-uneven',
      where: 'resolution',
      message: `the pixels are not square: ${across} an inch across, ${down} down; ${across} is used`,
      fix: 'Resample the art to square pixels.',
    })
  return across
}
