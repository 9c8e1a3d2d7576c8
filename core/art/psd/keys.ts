/** Blend mode keys of the format → the names used here. */
export const blendNames: ReadonlyMap<string, string> = new Map([
  ['pass', 'passThrough'],
  ['norm', 'normal'],
  ['diss', 'dissolve'],
  ['dark', 'darken'],
  ['mul ', 'multiply'],
  ['idiv', 'colorBurn'],
  ['lbrn', 'linearBurn'],
  ['dkCl', 'darkerColor'],
  ['lite', 'lighten'],
  ['scrn', 'screen'],
  ['div ', 'colorDodge'],
  ['lddg', 'linearDodge'],
  ['lgCl', 'lighterColor'],
  ['over', 'overlay'],
  ['sLit', 'softLight'],
  ['hLit', 'hardLight'],
  ['vLit', 'vividLight'],
  ['lLit', 'linearLight'],
  ['pLit', 'pinLight'],
  ['hMix', 'hardMix'],
  ['diff', 'difference'],
  ['smud', 'exclusion'],
  ['fsub', 'subtract'],
  ['fdiv', 'divide'],
  ['hue ', 'hue'],
  ['sat ', 'saturation'],
  ['colr', 'color'],
  ['lum ', 'luminosity'],
])

/** Block keys that make a layer an adjustment → its name. */
export const adjustmentNames: ReadonlyMap<string, string> = new Map([
  ['brit', 'brightnessContrast'],
  ['CgEd', 'brightnessContrast'],
  ['levl', 'levels'],
  ['curv', 'curves'],
  ['expA', 'exposure'],
  ['vibA', 'vibrance'],
  ['hue ', 'hueSaturation'],
  ['hue2', 'hueSaturation'],
  ['blnc', 'colorBalance'],
  ['blwh', 'blackAndWhite'],
  ['phfl', 'photoFilter'],
  ['mixr', 'channelMixer'],
  ['clrL', 'colorLookup'],
  ['nvrt', 'invert'],
  ['post', 'posterize'],
  ['thrs', 'threshold'],
  ['grdm', 'gradientMap'],
  ['selc', 'selectiveColor'],
])

export const fillKeys = ['SoCo', 'GdFl', 'PtFl', 'vscg'] as const
export const textKeys = ['TySh', 'tySh'] as const
export const placedKeys = ['SoLd', 'SoLE', 'PlLd', 'plLd'] as const
export const outlineKeys = ['vmsk', 'vsms'] as const
