/* Units of length. */
#ifndef TB_SUPPORT_UNITS_H
#define TB_SUPPORT_UNITS_H

#define TB_MM_PER_INCH 25.4 /* exactly: international inch, 1959 */

#endif
