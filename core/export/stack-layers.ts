import { type BuildLayer, buildOf, varnishKinds } from '../job/board-build.ts'
import type { Job } from '../job/job.ts'
import type { MaterialMap } from '../material/map.ts'
import { round } from './report-words.ts'
import { whiteFrom } from './white-from.ts'

/** One layer of the carton, as a drawing shows it. */
export interface StackLayer {
  readonly kind: 'varnish' | 'ink' | 'white' | 'film' | 'lacquer' | 'metal' | 'glue' | 'board'
  readonly name: string
  readonly says: string
}

/** The layers of a job's carton from the eye down. */
export function stackLayers(job: Job, map: MaterialMap): readonly StackLayer[] {
  const { board } = job
  const kind = buildOf(board)
  const known = varnishKinds.find(
    one =>
      one.varnishRoughness === board.varnishRoughness && one.varnishScatterMrad === board.varnishScatterMrad,
  )
  const varnish: readonly StackLayer[] =
    map.varnish === null
      ? []
      : [
          {
            kind: 'varnish',
            name: 'Varnish',
            says: `${known?.title.toLowerCase() ?? 'own'}, slope ${board.varnishRoughness}, spread ${board.varnishScatterMrad} mrad`,
          },
        ]
  const inks: readonly StackLayer[] = [
    ...map.spots.map(
      (spot): StackLayer => ({ kind: 'ink', name: `Spot ink ${spot.name}`, says: spotWords(spot) }),
    ),
    { kind: 'ink', name: 'C M Y K', says: printWords(job) },
  ]
  const whites = map.whites.map(
    (white): StackLayer => ({
      kind: 'white',
      name: /white/i.test(white.name) ? white.name : `White ${white.name}`,
      says: `opacity of one hit ${round(100 * white.opacity, 1)} %, ${white.hits} ${white.hits === 1 ? 'hit' : 'hits'}, ${whiteFrom(white)}`,
    }),
  )
  const below = (kind?.layers ?? usualLayers).map(layer => layerBelow(layer, board))
  return [...varnish, ...inks, ...whites, ...below]
}

/** Of a build that no press has. */
const usualLayers: readonly BuildLayer[] = ['lacquer', 'metal', 'glue', 'board']

function layerBelow(layer: BuildLayer, board: Job['board']): StackLayer {
  switch (layer) {
    case 'film':
    case 'lacquer':
      return {
        kind: layer,
        name: layer === 'film' ? 'Film' : 'Lacquer',
        says: board.readFrom === layer ? `index ${board.coatIndex}${tintWords(board)}` : '',
      }
    case 'metal':
      return { kind: layer, name: 'Metal with relief', says: `waviness ${board.wavinessMrad} mrad rms` }
    case 'glue':
      return { kind: layer, name: 'Glue', says: '' }
    case 'board':
      return { kind: layer, name: 'Board', says: `${board.caliperMm} mm` }
  }
}

const tintWords = ({ tint }: Job['board']): string =>
  tint === null ? ', clear' : `, ${tint.name}, L* a* b* ${tint.lab.map(value => round(value, 1)).join(' ')}`

const spotWords = ({ lab, spectrum }: MaterialMap['spots'][number]): string =>
  spectrum
    ? 'measured spectrum'
    : lab === null
      ? 'colour not known'
      : `L* a* b* ${lab.map(value => round(value, 1)).join(' ')}`

const printWords = ({ print }: Job): string =>
  print.profile === null
    ? 'offset on coated board, FOGRA39 (ships with rakelight)'
    : `by the profile ${print.profile.path}`
