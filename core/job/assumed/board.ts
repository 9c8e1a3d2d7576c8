import { buildOf } from '../board-build.ts'
import { setBoard } from '../edit.ts'
import type { Job } from '../job.ts'
import { newBoard } from '../usual.ts'
import { type AssumedNumber, field } from './number.ts'

type Plain =
  | 'wavinessMrad'
  | 'glossRoughness'
  | 'coatIndex'
  | 'varnishRoughness'
  | 'varnishScatterMrad'
  | 'microRoughnessNm'
  | 'hazeSpread'
  | 'caliperMm'

type Words = Pick<AssumedNumber, 'name' | 'says' | 'unit' | 'range' | 'status' | 'source' | 'measure'>

interface Known extends Words {
  readonly limits: readonly [number, number]
  readonly step: number
}

const inferred = 'no published value for decorative boards; inferred from how wide their colours spread'

const known: Readonly<Record<Plain, Known>> = {
  wavinessMrad: {
    name: 'Waviness of the board',
    says: 'How much the board tilts from place to place, rms. It sets how far each colour and each reflection spreads.',
    unit: 'mrad',
    range: [1, 10],
    status: 'proposed',
    source: inferred,
    measure:
      'Photograph the mirror image of a small far lamp in flat, plain foil; a quarter of the angle that it fills, less the lamp’s own.',
    limits: [0, 100],
    step: 0.5,
  },
  glossRoughness: {
    name: 'Slope of the bare top surface',
    says: 'How rough the lacquer or film is on top, rms slope. It sets the width of the white gloss.',
    unit: '',
    range: [0.01, 0.2],
    status: 'proposed',
    source: 'no source; a well levelled coat on board',
    measure: 'Goniophotometer, or an optical profiler over a few millimetres.',
    limits: [0.001, 1],
    step: 0.005,
  },
  coatIndex: {
    name: 'Refractive index over the metal',
    says: 'Of the lacquer or film that lies on the relief. It multiplies the optical depth of the grooves.',
    unit: '',
    range: [1.45, 1.65],
    status: 'from memory',
    source: 'acrylic and nitrocellulose lacquers about 1.5, polyester film about 1.6',
    measure: 'Refractometer, or the maker’s data sheet.',
    limits: [1.3, 2],
    step: 0.01,
  },
  varnishRoughness: {
    name: 'Slope of the varnished surface',
    says: 'How rough the top is where varnish lies, rms slope: gloss about 0.02, matte 0.2 and more.',
    unit: '',
    range: [0.01, 0.4],
    status: 'common practice',
    source: 'common practice, no source',
    measure: 'Gloss meter at 20° and 60° against a known sample, or an optical profiler.',
    limits: [0.001, 1],
    step: 0.005,
  },
  varnishScatterMrad: {
    name: 'Scatter inside the varnish',
    says: 'Angle by which a matte varnish spreads the light that passes it, rms; 0 for a clear one.',
    unit: 'mrad',
    range: [0, 100],
    status: 'proposed',
    source: 'no source; 0 is a clear varnish',
    measure: 'Draw the varnish on clear film and look at a small lamp through it: rms angle of its halo.',
    limits: [0, 500],
    step: 5,
  },
  microRoughnessNm: {
    name: 'Roughness of the metal',
    says: 'Height of the metal’s own fine roughness, rms. What it takes from the colours becomes a grey haze.',
    unit: 'nm',
    range: [0, 15],
    status: 'proposed',
    source: 'no source for embossed foil; 0 leaves it out',
    measure: 'Atomic force microscope on a plain place of the foil.',
    limits: [0, 60],
    step: 0.5,
  },
  hazeSpread: {
    name: 'Spread of that haze',
    says: 'How wide around each direction the roughness scatters, rms in direction cosines.',
    unit: '',
    range: [0.05, 0.4],
    status: 'proposed',
    source: 'no source',
    measure: 'Goniophotometer beside the mirror direction of plain foil.',
    limits: [0.01, 1],
    step: 0.01,
  },
  caliperMm: {
    name: 'Caliper of the board',
    says: 'Thickness of the whole board.',
    unit: 'mm',
    range: [0.3, 0.8],
    status: 'common practice',
    source: 'folding boards of 0.3 to 0.8 mm are usual',
    measure: 'Micrometer, ISO 534.',
    limits: [0.05, 10],
    step: 0.01,
  },
}

/** Numbers of the metallised board. */
export function assumedOfBoard({ board }: Job): AssumedNumber[] {
  const plain = (Object.keys(known) as Plain[]).map((key): AssumedNumber => {
    const { limits, step, ...words } = known[key]
    return {
      ...words,
      key: `board.${key}`,
      group: 'Board',
      value: board[key],
      usual: newBoard[key],
      field: field(limits, step, value => setBoard({ [key]: value })),
    }
  })
  return [...plain, cell(board, 0), cell(board, 1), build(board), tint(board)]
}

function cell({ cellUm }: Job['board'], axis: 0 | 1): AssumedNumber {
  return {
    key: `board.cellUm.${axis}`,
    group: 'Board',
    name: axis === 0 ? 'Grating cell, across its grooves' : 'Grating cell, along its grooves',
    says: 'Size of one embossed cell. Smaller cells spread each colour further.',
    unit: 'µm',
    value: cellUm[axis],
    usual: newBoard.cellUm[axis],
    range: [20, 80],
    status: 'proposed',
    source: 'no source; cells of dot-matrix work are some tens of micrometres',
    measure: 'Reflected-light microscope at 200 times.',
    field: field([1, 10_000], 5, value => job => {
      const [along, across] = job.board.cellUm
      return setBoard({ cellUm: axis === 0 ? [value, across] : [along, value] })(job)
    }),
  }
}

function build(board: Job['board']): AssumedNumber {
  return {
    key: 'board.build',
    group: 'Board',
    name: 'Build of the board',
    says: 'Whether the metal was transferred or sits on a film that stays, and from which side the relief is seen. Set in the board’s card.',
    unit: '',
    value: buildOf(board)?.title ?? `${board.build}, seen from the ${board.readFrom}`,
    usual: buildOf(newBoard)?.title ?? '',
    range: null,
    status: 'proposed',
    source: 'a choice; ask the converter',
    measure: 'Peel test and a cut under the microscope, or the converter’s word.',
    field: null,
  }
}

function tint({ tint }: Job['board']): AssumedNumber {
  return {
    key: 'board.tint',
    group: 'Board',
    name: 'Colour of the foil',
    says: 'Coloured lacquer over the aluminium, by the colour of the flat mirror. Set in the board’s card.',
    unit: '',
    value: tint === null ? 'clear' : `${tint.name}: L* a* b* ${tint.lab.join(' ')}`,
    usual: 'clear',
    range: null,
    status: 'proposed',
    source: 'no colour until a foil is chosen',
    measure: 'Spectrophotometer with the mirror reflection included (d:8°), D50, 2°.',
    field: null,
  }
}
