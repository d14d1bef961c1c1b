/** What must be shown beside each verdict about lifting, by the verdict's `cautionKey`. */
export const LIFTING_CAUTIONS = {
  'lifting.single':
    'A planning aid. It does not know the person, the ground or the weather. The assessment on site and local law come first; a competent person decides.',
  'lifting.team':
    'A planning aid. Lifting together needs good grips for all, room, one who gives the word, and people of like height. The assessment on site and local law come first; a competent person decides.',
  'lifting.wind':
    "A planning aid. The manufacturer's load chart and wind limit, the lift plan and local law come first. Wind is measured at the lift; the licensed operator stops the lift whenever in doubt.",
} as const;
