import type { Art, Layer } from '../art/layer.ts'
import { ancestorsOf } from './members.ts'
import type { Assigned } from './role.ts'

/**
 * Layers whose inks print from plates of their own, and which knock out of the process inks what they lie on, as the file
 * has it; in the order of the file. Hidden ones and those whose plates are not printed take nothing away.
 */
export function knockingLayers(art: Art, assigned: readonly Assigned[]): readonly string[] {
  const roles = new Map(assigned.map(({ target, role }) => [`${target.kind} ${target.id}`, role]))
  const shown = (layer: Layer) => [layer, ...ancestorsOf(art, layer)].every(one => one.visible)
  return art.layers
    .filter(
      layer =>
        roles.get(`layer ${layer.id}`) === 'ignore' &&
        layer.inks?.some(id => (roles.get(`channel ${id}`) ?? 'ignore') !== 'ignore') &&
        shown(layer),
    )
    .map(layer => layer.id)
}
