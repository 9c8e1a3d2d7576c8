/** What a layer, group or channel is on the carton. Order here is the order of the stack, bottom first. */
export const roleNames = [
  'substrate',
  'holography',
  'emboss',
  'primer',
  'white',
  'overprint',
  'spotInk',
  'varnish',
  'foilStamp',
  'dieline',
  'glueZone',
  'codingArea',
  'legend',
  'ignore',
] as const
export type RoleName = (typeof roleNames)[number]

/**
 * How an amount in 0..1 is read from a layer's pixels.
 * `alpha`: coverage of the layer itself; `darkness` and `lightness`: of its colour, times alpha;
 * `ink`: one process ink as a stand-in, times alpha; `plane`: the samples of a document channel.
 */
export type Amount =
  | { readonly from: 'alpha' }
  | { readonly from: 'darkness' }
  | { readonly from: 'lightness' }
  | { readonly from: 'ink'; readonly ink: 'C' | 'M' | 'Y' | 'K' }
  | { readonly from: 'plane' }

export interface Target {
  readonly kind: 'layer' | 'channel'
  readonly id: string
}

export interface Assigned {
  readonly target: Target
  readonly role: RoleName
  /** Why, in words a designer reads: `name has "white"`, `inside group "Foil"`, `set by you`. */
  readonly reason: string
  readonly by: 'rule' | 'group' | 'job'
  readonly amount: Amount
  /** True when the reading of the amount is a guess and must be asked. */
  readonly askAmount: boolean
  readonly amountReason: string
}
