import type { EyeAt, LampPose } from '../../../../core/reference/scene.ts'

/** Light in paper white, as short as it can be told apart. */
export const shortLight = (most: number): string => (most < 10 ? most.toFixed(1) : String(Math.round(most)))

/** `12 times paper` */
export const timesPaper = (most: number): string => `${shortLight(most)} times paper`

/** `30° round, 50° up` */
export const lampWords = ({ azimuthDeg, elevationDeg }: LampPose): string =>
  `${Math.round(azimuthDeg)}° round, ${Math.round(elevationDeg)}° up`

/** `straight on`, `20° from the right and 40° from above` */
export function eyeWords({ sideDeg, riseDeg }: EyeAt): string {
  const way = (deg: number, more: string, less: string) =>
    deg === 0 ? [] : [`${Math.abs(deg)}° from ${deg > 0 ? more : less}`]
  const from = [...way(sideDeg, 'the right', 'the left'), ...way(riseDeg, 'above', 'below')]
  return from.length === 0 ? 'straight on' : from.join(' and ')
}
