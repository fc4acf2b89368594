"""The invented workshop: the tour that carries one range through the whole job, and the sample shop.

Everything here goes through the services, as the window does.
"""
