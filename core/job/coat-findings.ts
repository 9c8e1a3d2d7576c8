import type { Finding } from '../base/finding.ts'
import { wedgeFit, wedgeTolerance } from '../optics/opacity.ts'
import { tintOf } from '../optics/tint.ts'
import type { BoardSpec } from '../reference/scene.ts'
import type { Job } from './job.ts'

/**
 * What cannot be as the job says it: board and whites. Which builds there are:
 * metal transferred to the board comes under the lacquer that its relief was pressed into, and the film is pulled off;
 * a metallised film stays on the board, its metal either outwards under a lacquer, or inwards and seen through the film.
 */
export function coatFindings({
  board,
  whites,
  found,
}: Pick<Job, 'board' | 'whites' | 'found'>): readonly Finding[] {
  return [
    ...buildFindings(board),
    ...tintFindings(board),
    ...whites.flatMap(white => wedgeFindings(white, found)),
  ]
}

function buildFindings({ build, readFrom }: BoardSpec): Finding[] {
  if (build !== 'transfer' || readFrom !== 'film') return []
  return [
    {
      severity: 'warning',
      code: 'no-film-to-see-through',
      where: 'board',
      message:
        'the metal is transferred, so its film is pulled off, but the relief is to be seen through the film; it is computed as a negative',
      fix: 'Choose a laminated film, or have the relief seen through its lacquer.',
    },
  ]
}

function tintFindings({ tint, coatIndex }: BoardSpec): Finding[] {
  if (tint === null) return []
  const { exact, lab } = tintOf(tint.lab, coatIndex)
  if (exact) return []
  const said = (color: readonly number[]) => color.map(v => v.toFixed(1)).join(' / ')
  return [
    {
      severity: 'warning',
      code: 'tint-out-of-reach',
      where: `tint "${tint.name}"`,
      message: `no lacquer over aluminium has Lab ${said(tint.lab)}; the nearest greyer one, ${said(lab)}, is taken`,
      fix: 'Read the flat metal in its mirror direction again: it is never lighter than clear aluminium.',
    },
  ]
}

function wedgeFindings({ target, opacity }: Job['whites'][number], found: Job['found']): Finding[] {
  if (opacity.from !== 'wedge') return []
  const { patches } = wedgeFit(opacity.patches)
  const worst = patches.reduce((a, b) => (Math.abs(b.residual) > Math.abs(a.residual) ? b : a))
  if (Math.abs(worst.residual) <= wedgeTolerance) return []
  const name = found.find(one => one.target.kind === target.kind && one.target.id === target.id)?.name
  const percent = (part: number) => `${(100 * part).toFixed(1)} %`
  return [
    {
      severity: 'warning',
      code: 'wedge-does-not-fit',
      where: `white "${name ?? target.id}"`,
      message: `hits of one white cannot give these readings: ${worst.hits} × printed reads ${percent(worst.contrast)}, expected ${percent(worst.fitted)}`,
      fix: 'Measure that patch again, or print the wedge with full hits of the same ink.',
    },
  ]
}
