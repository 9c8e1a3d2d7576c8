import type { Job } from '../job/job.ts'
import type { RoleName } from '../roles/role.ts'
import type { ProofSource } from './version.ts'

/** What a change costs once a job has been released: a new master for the holography, new plates for the print, or nothing. */
export interface Cost {
  readonly master: boolean
  readonly plates: boolean
}

/** A cost with its reason, as a reader is told. */
export interface CostLine {
  readonly cost: Cost
  readonly why: string
}

export const nothing: Cost = { master: false, plates: false }
const master: Cost = { master: true, plates: false }
const plates: Cost = { master: false, plates: true }
const both: Cost = { master: true, plates: true }

export const costWords = (cost: Cost): string =>
  cost.master
    ? cost.plates
      ? 'new master and new plates'
      : 'new master'
    : cost.plates
      ? 'new plates'
      : 'nothing'

export const sumOf = (costs: readonly Cost[]): Cost => ({
  master: costs.some(one => one.master),
  plates: costs.some(one => one.plates),
})

/**
 * What a change of a field of the job costs. Common practice, no source: what is embossed is in the master, what is
 * printed is on plates, and what is only looked at, judged or noted is in neither. Where one cannot tell, the dearer holds.
 */
export const fieldCosts = {
  format: { cost: nothing, why: 'how the job is saved is on no carton' },
  version: { cost: nothing, why: 'how the job is saved is on no carton' },
  art: {
    cost: both,
    why: 'which layers of the art changed is not known: holography and print may both be touched',
  },
  brief: { cost: nothing, why: 'the brief is words' },
  sketch: { cost: plates, why: 'the sketch says how much of the panel white covers' },
  panel: { cost: both, why: 'another size is another master and other plates' },
  carton: { cost: both, why: 'the layout of the carton says where holography and print lie' },
  roles: { cost: both, why: 'what a layer is says whether it is embossed or printed' },
  found: { cost: nothing, why: 'what the rules found is a note; a part that was set by hand stands' },
  seen: { cost: nothing, why: 'where the art lay is a note; the art itself is another field' },
  aliases: { cost: both, why: 'a taught word may give a layer another part' },
  effects: { cost: master, why: 'the gratings are in the master' },
  outlines: { cost: master, why: 'a drawn area bounds gratings, which are in the master' },
  presets: { cost: nothing, why: 'a kept effect is on the carton only where it is used' },
  nestTurnDeg: { cost: both, why: 'master and plates are laid out for how the carton lies on the sheet' },
  assets: { cost: master, why: 'pictures that the holography shows are in the master' },
  whites: { cost: plates, why: 'another white needs its plates again: coverage, hits and tone are theirs' },
  madeWhite: { cost: plates, why: 'the white is a plate' },
  spots: { cost: plates, why: 'separations were made for the ink as it was' },
  measured: { cost: nothing, why: 'a note on where a number comes from; the number itself is another field' },
  board: { cost: both, why: 'the master is made for the board’s relief, and the separations for its look' },
  whiteInk: { cost: plates, why: 'coverage and hits of white were set for the ink as it was' },
  print: { cost: plates, why: 'separations and tone are made for the print condition' },
  light: { cost: nothing, why: 'light is how it is looked at' },
  view: { cost: nothing, why: 'the view is how it is looked at' },
  paths: { cost: nothing, why: 'a lamp path is how it is looked at' },
  pins: { cost: nothing, why: 'a pin is where it is read' },
  limits: { cost: nothing, why: 'a limit judges; it changes nothing on the carton' },
  waivers: { cost: nothing, why: 'a waiver judges; it changes nothing on the carton' },
  marked: { cost: nothing, why: 'a marked area tells the checks what lies there' },
  register: { cost: nothing, why: 'plates out of register are only looked at; the design stays' },
  variants: { cost: nothing, why: 'another design beside this one is not what was signed' },
  variant: { cost: nothing, why: 'which design is shown is told by the fields that it changes' },
  aside: { cost: nothing, why: 'what the base has is not what was signed while another design is shown' },
} as const satisfies Record<keyof Job, CostLine>

/**
 * Parts of a field that cost something else than the whole of it, by the path of what changed; the first that begins it
 * holds.
 */
export const partCosts: readonly { readonly path: string; readonly line: CostLine }[] = [
  {
    path: 'panel.resolutionPpi',
    line: { cost: nothing, why: 'how finely the map is worked out is on no carton' },
  },
  {
    path: 'carton.fold',
    line: { cost: nothing, why: 'how far the carton is folded is how it is looked at' },
  },
  { path: 'carton.form.code', line: { cost: nothing, why: 'a code of the style is a label' } },
  { path: 'carton.form.name', line: { cost: nothing, why: 'the name of the drawing is a label' } },
  {
    path: 'art.path',
    line: { cost: nothing, why: 'the art lies elsewhere; what is in it is told by its hash' },
  },
  ...['varnishRoughness', 'varnishScatterMrad'].map(name => ({
    path: `board.${name}`,
    line: { cost: plates, why: 'another varnish is another forme on press; the metal stays' },
  })),
  ...['wavinessMrad', 'glossRoughness', 'microRoughnessNm', 'hazeSpread'].map(name => ({
    path: `board.${name}`,
    line: { cost: nothing, why: 'how smooth the board is was measured, and is in no tool' },
  })),
  {
    path: 'board.tint',
    line: { cost: plates, why: 'separations were made for the colour of the metal' },
  },
]

/** What a change of a layer costs, by what it is. */
export const roleCosts = {
  substrate: { cost: both, why: 'the board says what master and separations are made for' },
  holography: { cost: master, why: 'holography is in the master' },
  emboss: { cost: master, why: 'relief is in a die of its own, and in register with the master' },
  primer: { cost: plates, why: 'primer is a plate' },
  white: { cost: plates, why: 'white is a plate' },
  overprint: { cost: plates, why: 'print is on plates' },
  spotInk: { cost: plates, why: 'a spot ink is a plate' },
  varnish: { cost: plates, why: 'varnish is a plate' },
  foilStamp: { cost: plates, why: 'stamped foil is a tool of its own beside the plates' },
  dieline: { cost: both, why: 'cut and creases say where holography and print lie' },
  glueZone: { cost: plates, why: 'white, print and varnish leave the glue free' },
  codingArea: { cost: plates, why: 'white and print leave the coding area free' },
  legend: { cost: nothing, why: 'a legend is not on the carton' },
  ignore: { cost: nothing, why: 'it is not on the carton' },
} as const satisfies Record<RoleName, CostLine>

/** What a changed file costs. */
export const sourceCosts = {
  art: fieldCosts.art,
  profile: { cost: plates, why: 'separations are made for the print condition' },
  asset: fieldCosts.assets,
  carton: fieldCosts.carton,
} as const satisfies Record<ProofSource['kind'], CostLine>
