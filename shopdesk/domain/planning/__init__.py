"""The bench calendar: which task, by whom, at which station, in which working half-hour.

Time is counted in working half-hours ("slots"): slot 0 is the first half-hour the shop is
open on the plan's first day, nights and closed days do not exist. `calendar` goes between
slots and dates, `solve` plans and plans anew, `odds` says how likely a date is kept.
This room knows nothing of the shop file, of screens or of money.
"""
