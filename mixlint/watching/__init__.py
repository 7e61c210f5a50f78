"""A session looked at again at each export: what a review hangs on, when it is made anew, and the page it is shown on.

Nothing is printed here. Reviews are made in processes beside this one (:mod:`mixlint.watching.reviewing`), so that
whoever looks on is never held up, and a stranger's file costs a review and not the watch.
"""
