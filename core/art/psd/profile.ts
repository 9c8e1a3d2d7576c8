import { namedProfile } from '../icc-name.ts'
import type { Art } from '../layer.ts'
import type { Resource } from './resources.ts'

const iccProfile = 1039

/** The embedded profile, bytes as they are. */
export function readProfile(resources: ReadonlyMap<number, Resource>): Art['profile'] {
  const cursor = resources.get(iccProfile)?.cursor()
  if (!cursor || cursor.left < 132) return null
  return namedProfile(cursor.take(cursor.left).slice())
}
