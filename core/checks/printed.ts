import type { Layer } from '../art/layer.ts'
import { ancestorsOf } from '../roles/members.ts'
import type { RoleName } from '../roles/role.ts'
import type { BoxMm } from './finding.ts'
import type { CheckInput } from './input.ts'
import { pixelBox } from './spot-area.ts'

type Read = Pick<CheckInput, 'art' | 'assigned'>

/** Layers with pixels or shapes of these roles that are switched on, bottom first. */
export function layersOf({ art, assigned }: Read, roles: readonly RoleName[]): readonly Layer[] {
  const roleOf = new Map(assigned.map(({ target, role }) => [`${target.kind} ${target.id}`, role]))
  return art.layers.filter(layer => {
    const role = roleOf.get(`layer ${layer.id}`)
    if (layer.kind === 'group' || layer.kind === 'adjustment' || role === undefined) return false
    return roles.includes(role) && layer.visible && ancestorsOf(art, layer).every(({ visible }) => visible)
  })
}

/** What prints colour. */
export const colourRoles = ['overprint', 'spotInk'] as const satisfies readonly RoleName[]

/** A layer's box on the panel, mm. */
export const layerBox = ({ art, map }: Pick<CheckInput, 'art' | 'map'>, { box }: Pick<Layer, 'box'>): BoxMm =>
  pixelBox({ width: art.width, height: art.height, widthMm: map.widthMm, heightMm: map.heightMm }, box)
