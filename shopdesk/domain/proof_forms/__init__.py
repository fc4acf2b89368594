"""The guided form of each proof: what is asked, in which unit, and what the answers amount to.

`asked` says what a form is, `forms` finds the one of a proof on a range's build; the other files hold
the forms by subject. Where figures decide, the result is worked out; where an eye judges, the person
chooses among the three words, and a figure that speaks against it still counts. Pure values: nothing
here knows records, screens or languages.
"""
