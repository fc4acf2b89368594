"""What comes in from other programs and goes out to them: pictures, tables, calendars, mail drafts.

Takes and gives bytes and values; knows no database, no screen and no paper.
"""
